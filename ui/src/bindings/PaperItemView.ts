import type { PaperAmountView } from "./PaperAmountView";
export type PaperItemView = { description: string, part_number: string, quantity: string, amount: PaperAmountView, is_core: boolean, };
