// @ts-check
// Before the first paint, so that the night look never flashes white: the look
// that was kept. Everything else about it is app.js's.
try {
  const look = JSON.parse(localStorage.getItem("glasscall") ?? "{}").look;
  if (look) document.documentElement.dataset.look = look;
} catch {
  // A window that may keep nothing, or a damaged record: the system's look.
}
