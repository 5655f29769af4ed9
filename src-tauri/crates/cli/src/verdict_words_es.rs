//! The Spanish headings of a verdict.

use crate::verdict_words_en::Words;

/// Headings and fixed words.
pub const ES: Words = Words {
    job: "Taller y trabajo",
    refused: "QUÉ ESTÁ MAL",
    signed: "QUIÉN FIRMÓ",
    doubts: "QUÉ ES EXTRAÑO (no se corrigió nada)",
    proven: "DEMOSTRADO",
    not_proven: "NO DEMOSTRADO",
    photos: "Fotografías presentes / con partes cubiertas / en copia sin los datos de la cámara / perdidas en el taller / omitidas",
    values: "Nombres y textos mostrados / omitidos",
    record: "registro",
    records: "registros",
    key: "clave",
    from_record: "desde el registro",
    named: "nombrada por la clave anterior",
    after_loss: "UNA RUPTURA: la clave anterior se declaró perdida y no la nombró",
    trusted: "es la clave que usted nombró, o aquella responde por esta",
    compare: "compare esta huella con la que le entregaron",
};
