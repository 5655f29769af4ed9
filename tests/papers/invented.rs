//! What stands on invented papers, and how it is laid out: till receipts, bills and quotes of four regions.

use super::typeset::{Piece, Row, Sheet, WIDE};
use super::{Chance, Item, Truth};

const NAMES: &[&str] = &[
    "Copper Hollow Parts Co.",
    "Brook & Daughter Motor Factors",
    "Tarn Electric Supply",
    "Millbrook Auto Wiring",
    "Harlan Ridge Components",
    "Osprey Lane Spares",
];
const SPANISH_NAMES: &[&str] =
    &["Recambios Valdeolmo S.L.", "Eléctrica Peñarroble", "Suministros Arroyo Frío", "Desguaces Monteclaro"];
const GOODS: &[&str] = &[
    "Fan relay 12 V",
    "Cooling fan motor",
    "Blower resistor pack",
    "Fuse kit 30 A",
    "Wiper motor front",
    "Ground strap",
    "Headlamp connector",
    "Alternator rebuilt",
    "Starter solenoid",
    "Heat shrink tube",
];
const SPANISH_GOODS: &[&str] = &[
    "Relé ventilador 12 V",
    "Motor de ventilador",
    "Alternador reconstruido",
    "Juego de fusibles",
    "Cable de masa",
    "Conector de faro",
    "Bobina de arranque",
];

struct Style {
    region: &'static str,
    spanish: bool,
    /// Thousandths.
    tax: i64,
    tax_inside: bool,
    sign: (&'static str, &'static str),
    kind: &'static str,
    total: &'static str,
    tax_name: &'static str,
}

const STYLES: [Style; 4] = [
    Style {
        region: "US-MI",
        spanish: false,
        tax: 60,
        tax_inside: false,
        sign: ("$", ""),
        kind: "INVOICE",
        total: "TOTAL",
        tax_name: "Sales tax 6 %",
    },
    Style {
        region: "US-NY",
        spanish: false,
        tax: 80,
        tax_inside: false,
        sign: ("", ""),
        kind: "QUOTE",
        total: "Total",
        tax_name: "Tax 8.000 %",
    },
    Style {
        region: "ES",
        spanish: true,
        tax: 210,
        tax_inside: false,
        sign: ("", " €"),
        kind: "FACTURA",
        total: "TOTAL",
        tax_name: "IVA 21 %",
    },
    Style {
        region: "GB",
        spanish: false,
        tax: 200,
        tax_inside: true,
        sign: ("£", ""),
        kind: "RECEIPT",
        total: "Total",
        tax_name: "VAT 20 % included",
    },
];

/// A paper of the seed's style, on a till's narrow roll or a sheet.
pub fn paper(chance: &mut Chance, seed: u64) -> (Truth, Sheet) {
    let style = STYLES.get((seed % 4) as usize).expect("there are four");
    let narrow = (seed / 4).is_multiple_of(2);
    let truth = truth(chance, style);
    let family = if narrow { "DejaVuSansMono" } else { chance.one(&["DejaVuSans", "DejaVuSerif"]) };
    let rows = if narrow { roll(&truth, style) } else { sheet(&truth, style) };
    (truth, Sheet { family, thermal: narrow, rows })
}

fn truth(chance: &mut Chance, style: &Style) -> Truth {
    let (names, goods) = if style.spanish { (SPANISH_NAMES, SPANISH_GOODS) } else { (NAMES, GOODS) };
    let mut lines: Vec<Item> = (0..1 + chance.below(6))
        .map(|_| {
            let quantity = if chance.share() < 0.3 { 2 + chance.below(4) as i64 } else { 1 };
            let most = if chance.share() < 0.2 { 160_000 } else { 9_000 };
            let one = (150 + chance.below(most)) as i64;
            let letters = ["KD", "RB", "TX", "HM"];
            let part_number = format!(
                "{}-{}-{}",
                chance.one(&letters),
                1000 + chance.below(9000),
                chance.one(&["A", "B", "C"])
            );
            let description = chance.one(goods).to_owned();
            Item { description, part_number, quantity, amount: one * quantity, is_core: false }
        })
        .collect();
    if chance.share() < 0.4 {
        let description = if style.spanish { "Depósito por casco" } else { "Core charge" }.to_owned();
        let amount = 500 * (2 + chance.below(18) as i64);
        lines.push(Item { description, part_number: String::new(), quantity: 1, amount, is_core: true });
    }
    let sum: i64 = lines.iter().map(|line| line.amount).sum();
    let tax = if style.tax_inside {
        (sum * style.tax + (1000 + style.tax) / 2) / (1000 + style.tax)
    } else {
        (sum * style.tax + 500) / 1000
    };
    let day = format!("2026-{:02}-{:02}", 1 + chance.below(12), 1 + chance.below(28));
    let number = format!("{}-{}", chance.one(&["A", "CH", "Q", "F26"]), 10_000 + chance.below(90_000));
    let total = if style.tax_inside { sum } else { sum + tax };
    Truth {
        region: style.region,
        supplier: chance.one(names).to_owned(),
        day,
        number,
        lines,
        tax: Some(tax),
        total,
    }
}

/// As the region writes it.
fn written(cents: i64, style: &Style) -> String {
    let (group, decimal) = if style.spanish { ('.', ',') } else { (',', '.') };
    let whole = cents / 100;
    let whole =
        if whole < 1000 { whole.to_string() } else { format!("{}{group}{:03}", whole / 1000, whole % 1000) };
    format!("{whole}{decimal}{:02}", cents % 100)
}

fn day_written(day: &str, style: &Style) -> String {
    let parts: Vec<&str> = day.split('-').collect();
    let [year, month, day] = parts.as_slice() else { panic!("{day} is no day") };
    if style.region.starts_with("US") {
        format!("{month}/{day}/{year}")
    } else {
        format!("{day}/{month}/{year}")
    }
}

fn left(at: i32, text: impl Into<String>) -> Piece {
    Piece { at, ends_there: false, text: text.into() }
}

fn right(at: i32, text: impl Into<String>) -> Piece {
    Piece { at, ends_there: true, text: text.into() }
}

/// The words of a paper in the language of its style.
fn word(style: &Style, english: &'static str, spanish: &'static str) -> &'static str {
    if style.spanish { spanish } else { english }
}

/// A till's receipt: few columns, what there are several of in a row of its own.
fn roll(truth: &Truth, style: &Style) -> Vec<Row> {
    let row = |pieces| Row { size: 56, bold: false, pieces };
    let mut rows = vec![
        Row { size: 64, bold: true, pieces: vec![left(90, truth.supplier.clone())] },
        row(vec![left(90, word(style, "14 Foundry Lane", "C/ Molino 8"))]),
        row(vec![left(90, "Tel. 555-0114")]),
        row(vec![left(90, format!("{} {}", style.kind, truth.number))]),
        row(vec![left(
            90,
            format!("{} {}  14:05", word(style, "Date", "Fecha"), day_written(&truth.day, style)),
        )]),
        row(vec![]),
    ];
    for line in &truth.lines {
        rows.push(row(vec![left(90, line.description.clone()), right(90, written(line.amount, style))]));
        let mut below = line.part_number.clone();
        if line.quantity > 1 {
            below = format!("{below}   {} x {}", line.quantity, written(line.amount / line.quantity, style));
        }
        if !below.is_empty() {
            rows.push(row(vec![left(150, below)]));
        }
    }
    rows.push(row(vec![]));
    rows.extend(sums(truth, style, 56));
    rows.push(row(vec![left(90, word(style, "Card", "Tarjeta")), right(90, written(truth.total, style))]));
    rows.push(row(vec![]));
    rows.push(row(vec![left(90, word(style, "Returns within 30 days", "Cambios en 30 días"))]));
    rows
}

/// A sheet with columns.
fn sheet(truth: &Truth, style: &Style) -> Vec<Row> {
    let row = |pieces| Row { size: 36, bold: false, pieces };
    let mut rows = vec![
        Row { size: 54, bold: true, pieces: vec![left(90, truth.supplier.clone())] },
        row(vec![left(90, word(style, "14 Foundry Lane, Millbrook", "C/ Molino 8, Peñarroble"))]),
        row(vec![left(90, "Tel. 555-0114")]),
        row(vec![]),
        row(vec![
            left(90, format!("{} {} {}", style.kind, word(style, "No.", "n.º"), truth.number)),
            right(90, format!("{}: {}", word(style, "Date", "Fecha"), day_written(&truth.day, style))),
        ]),
        row(vec![]),
        Row {
            size: 34,
            bold: true,
            pieces: vec![
                left(90, word(style, "Part no.", "Código")),
                left(400, word(style, "Description", "Descripción")),
                right(560, word(style, "Qty", "Cant.")),
                right(330, word(style, "Price", "Precio")),
                right(90, word(style, "Amount", "Importe")),
            ],
        },
    ];
    for line in &truth.lines {
        rows.push(row(vec![
            left(90, line.part_number.clone()),
            left(400, line.description.clone()),
            right(560, line.quantity.to_string()),
            right(330, written(line.amount / line.quantity, style)),
            right(90, written(line.amount, style)),
        ]));
    }
    rows.push(row(vec![]));
    rows.extend(sums(truth, style, 36));
    rows.push(row(vec![]));
    rows.push(row(vec![left(90, word(style, "Thank you for your order.", "Gracias por su pedido."))]));
    rows
}

fn sums(truth: &Truth, style: &Style, size: u32) -> Vec<Row> {
    let from = if size > 50 { 90 } else { WIDE as i32 / 2 };
    let row = |name: &str, cents, bold, size| {
        let (before, behind) = style.sign;
        let amount = format!("{before}{}{behind}", written(cents, style));
        Row { size, bold, pieces: vec![left(from, name), right(90, amount)] }
    };
    let goods: i64 = truth.lines.iter().map(|line| line.amount).sum();
    let total = row(style.total, truth.total, true, size * 6 / 5);
    let Some(tax) = truth.tax else { return vec![total] };
    let tax = row(style.tax_name, tax, false, size);
    if style.tax_inside {
        return vec![total, tax];
    }
    vec![row(word(style, "Subtotal", "Base imponible"), goods, false, size), tax, total]
}
