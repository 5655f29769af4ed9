//! Words that papers of suppliers are written with, in English and Spanish, and how misread letters are forgiven.

/// Before the sum that is to be paid.
pub const TOTAL: &[&str] = &["total", "amount due", "balance due", "to pay", "importe a pagar"];
/// Before the sum of the lines, or what looks like a total and is none.
pub const SUBTOTAL: &[&str] = &[
    "subtotal",
    "sub total",
    "base imponible",
    "net total",
    "total net",
    "neto",
    "merchandise",
    "total before",
    "total parts",
    "total lines",
    "importe neto",
    "base",
];
/// Before the tax.
pub const TAX: &[&str] = &["tax", "vat", "gst", "hst", "pst", "iva", "i v a", "impuesto"];
/// Numbers of the tax office and the like: no tax.
pub const TAX_NUMBER: &[&str] = &[
    "tax id",
    "tax number",
    "tax reg",
    "tax invoice",
    "vat no",
    "vat reg",
    "vat number",
    "gst no",
    "gst number",
    "nif",
    "rfc",
    "cif",
    "reg no",
];
/// That it is inside the lines.
pub const CORE: &[&str] = &["core", "casco", "cascos"];
/// Behind the total: how it was paid.
pub const PAYMENT: &[&str] = &[
    "cash",
    "card",
    "change",
    "tendered",
    "paid",
    "payment",
    "debit",
    "credit card",
    "account",
    "efectivo",
    "cambio",
    "tarjeta",
    "entregado",
    "pagado",
    "pago",
    "forma de pago",
    "amount saved",
    "you saved",
];
/// Before the paper's number.
pub const NUMBER: &[&str] = &[
    "invoice",
    "receipt",
    "quote",
    "quotation",
    "estimate",
    "bill",
    "ticket",
    "factura",
    "recibo",
    "presupuesto",
    "cotizacion",
    "albaran",
    "nota",
    "document",
    "documento",
    "credit note",
];
/// Rows of a paper's head that name no business.
pub const HEAD: &[&str] = &[
    "invoice",
    "receipt",
    "quote",
    "quotation",
    "estimate",
    "bill to",
    "ship to",
    "ticket",
    "factura",
    "recibo",
    "presupuesto",
    "cotizacion",
    "albaran",
    "date",
    "fecha",
    "tel",
    "phone",
    "fax",
    "page",
    "pagina",
    "welcome",
    "bienvenido",
    "customer",
    "cliente",
    "duplicate",
    "copy",
    "copia",
    "sold to",
    "cash sale",
];
/// Names of columns.
pub const COLUMNS: &[&str] = &[
    "description",
    "descripcion",
    "qty",
    "quantity",
    "cantidad",
    "cant",
    "price",
    "precio",
    "amount",
    "importe",
    "item",
    "articulo",
    "part no",
    "part number",
    "unit",
    "each",
    "codigo",
    "referencia",
];
/// Days that are not the paper's own.
pub const OTHER_DAYS: &[&str] = &[
    "due",
    "valid",
    "until",
    "expires",
    "return by",
    "vencimiento",
    "vence",
    "valido",
    "hasta",
    "delivery",
    "entrega",
];

/// Lower case, without accents, one space between words; digits between letters become the letters they are misread for.
pub fn plain(text: &str) -> String {
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(plain_word).collect::<Vec<_>>().join(" ")
}

fn plain_word(word: &str) -> String {
    let bare: String = word.chars().flat_map(char::to_lowercase).map(without_accent).collect();
    let letters = bare.chars().filter(|c| c.is_alphabetic()).count();
    let digits = bare.chars().filter(char::is_ascii_digit).count();
    if letters < 2 || digits > letters {
        return bare;
    }
    bare.chars()
        .map(|c| {
            if c == '0' {
                'o'
            } else if c == '1' {
                'l'
            } else {
                c
            }
        })
        .collect()
}

const fn without_accent(letter: char) -> char {
    match letter {
        'á' | 'à' | 'â' | 'ä' => 'a',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' => 'o',
        'ú' | 'ù' | 'û' | 'ü' => 'u',
        'ñ' => 'n',
        other => other,
    }
}

/// Whether a plain text holds one of the phrases, as whole words.
pub fn holds(plain: &str, phrases: &[&str]) -> bool {
    let padded = format!(" {plain} ");
    phrases.iter().any(|phrase| padded.contains(&format!(" {phrase} ")))
}
