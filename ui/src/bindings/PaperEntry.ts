export type PaperEntry = { photo: string | null, };
