export type PaperDoubt = "sums_differ" | "no_lines" | "read_unsurely";
