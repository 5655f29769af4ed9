/** The shell as the tests play it: what is asked is written down, what is answered is laid ready. */
type Values = Record<string, unknown>;
type Answer = (values: Values) => unknown;

/** Every call, oldest first. */
export const calls: { command: string; values: Values }[] = [];
/** Answers by command; what a function throws is the refusal. */
export const answers: Record<string, Answer> = {};
/** Drafts on disk, by job and form. */
export const drafts = new Map<string, string>();

/** As on a bare device: no draft, no answer but those of drafts. */
export function forget(): void {
  calls.length = 0;
  drafts.clear();
  for (const command of Object.keys(answers)) Reflect.deleteProperty(answers, command);
  answers.draft_view = ({ job, form }) => drafts.get(`${String(job)} ${String(form)}`) ?? '';
  answers.draft_keep = ({ job, form, text }) =>
    void drafts.set(`${String(job)} ${String(form)}`, String(text));
}

/** Calls of one command. */
export function callsOf(command: string): Values[] {
  return calls.filter((one) => one.command === command).map((one) => one.values);
}

/** A refusal as Rust gives it. */
export function refusal(code: string, values: Record<string, string> = {}): Answer {
  return () => {
    throw Object.assign(new Error(code), { code, values, detail: '' });
  };
}

// What the shell's own module exports.
export function call<T>(command: string, values: Values = {}): Promise<T> {
  calls.push({ command, values: structuredCloned(values) });
  const answer = answers[command];
  if (!answer) return Promise.reject(new Error(`nothing is laid ready for ${command}`));
  return Promise.resolve().then(() => answer(values) as T);
}

export function send<T>(command: string, _bytes: Uint8Array, about: unknown): Promise<T> {
  return call<T>(command, { about });
}

export function pictureAddress(kind: string, sha256: string): string {
  return `photo/${kind}/${sha256}`;
}

/** What goes out is what it was at that moment. */
function structuredCloned(values: Values): Values {
  return JSON.parse(JSON.stringify(values)) as Values;
}
