// What the app's shell puts into a page, laid onto the bridge. Runs inside the page, before its own script.
export function shellInPage() {
  const isRaw = (values) => values instanceof Uint8Array || values instanceof ArrayBuffer;
  let callbacks = 0;
  window.__TAURI_INTERNALS__ = {
    metadata: {
      currentWindow: { label: 'main' },
      currentWebview: { windowLabel: 'main', label: 'main' },
    },
    transformCallback: () => (callbacks += 1),
    unregisterCallback: () => {},
    convertFileSrc: (path, scheme) => `/${scheme}/${encodeURIComponent(path)}`,
    async invoke(command, values = {}, options = {}) {
      const raw = isRaw(values);
      const kind = raw ? 'application/octet-stream' : 'application/json';
      const body = raw ? values : JSON.stringify(values);
      const answer = await fetch(`/invoke/${command}`, {
        method: 'POST',
        body,
        headers: { 'content-type': kind, ...options.headers },
        // What was sent arrives, as it does through the app's own channel, also when the page goes meanwhile. Browsers
        // allow it for bodies up to 64 KiB.
        keepalive: command === 'draft_keep' && body.length < 60_000,
      });
      if (answer.status !== 200 && answer.status !== 422) throw new Error(await answer.text());
      const json = answer.headers.get('content-type')?.startsWith('application/json');
      const value = json ? await answer.json() : await answer.arrayBuffer();
      if (!answer.ok) throw value;
      return value;
    },
  };
}
