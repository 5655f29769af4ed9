import type { PaperAmountView } from "./PaperAmountView";
import type { PaperDoubt } from "./PaperDoubt";
import type { PaperItemView } from "./PaperItemView";
export type PaperView = { can_read: boolean, supplier: string, day: string, number: string, lines: Array<PaperItemView>, core: PaperAmountView | null, tax: PaperAmountView | null, tax_inside: boolean, total: PaperAmountView | null, adds_up_to: PaperAmountView | null, doubts: Array<PaperDoubt>, };
