// @ts-check
// Before the first paint: the look that was chosen on the page, so that the
// night look never flashes white.
try {
  const { look } = JSON.parse(localStorage.getItem("glasscall") ?? "{}") ?? {};
  if (look) document.documentElement.dataset.look = look;
} catch {
  // A window that may keep nothing, or a damaged record: as the device has it.
}
