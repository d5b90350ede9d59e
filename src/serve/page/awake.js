// Keeps the screen lit while both hands hold probes, where the browser allows it.

async function request() {
  if (document.visibilityState !== 'visible') return;
  try {
    await navigator.wakeLock.request('screen');
  } catch {
    // Low battery or a policy of the device: the screen then sleeps as it always does.
  }
}

export function keepAwake() {
  if (!('wakeLock' in navigator)) return;
  document.addEventListener('visibilitychange', request);
  document.addEventListener('pointerdown', request, { once: true });
  request();
}
