/** Does the work once nothing more came for a while, in milliseconds: for what is too dear for every letter. */
export function afterPause(work: () => unknown, pause = 300): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(work, pause);
  };
}
