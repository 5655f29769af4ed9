export type PaperAmountView = { cents: string, typed: string, };
