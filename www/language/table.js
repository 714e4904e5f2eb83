// @ts-check
/**
 * The words of another language by the English ones; the build puts them
 * together from the files of its folder.
 * @param {string} language
 * @returns {Promise<Record<string, import("./say.js").Words>>}
 */
export async function wordsOf(language) {
  const response = await fetch(new URL(`${language}.json`, import.meta.url));
  if (!response.ok) throw new Error(`${language}: ${response.status}`);
  return response.json();
}
