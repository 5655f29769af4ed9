//! The Spanish words of a verdict: a sentence by what each finding is about, because the verifier speaks English alone.

use crate::verdict_words_en::Words;
use evidence::packet::Code;

/// What is proven.
pub fn proven(code: Code) -> &'static str {
    match code {
        Code::Container => "el zip contiene solo los archivos, en la única forma que permite este formato",
        Code::Manifest => "los archivos son los de la lista y no hay otros",
        Code::Signature => "cada punto de control está firmado con la clave que valía en su lugar",
        Code::Timestamp => "los registros existían a la hora que indica una autoridad que usted nombró",
        Code::Chain => {
            "los registros están en el orden en que se sellaron, sin cambios y sin que falte ninguno entre ellos"
        }
        Code::OtherLogs => "coincide con lo que otros dispositivos habían visto",
        Code::Photo => "las fotografías tienen los bytes que nombran sus registros",
        Code::Report => "los informes tienen los bytes que nombran sus registros",
        Code::Disclosure => "los valores mostrados son los que se sellaron",
        Code::Key => "el registro está firmado con la clave que usted nombró, o con una a la que ella lleva",
        Code::Redaction => {
            "las fotografías cubiertas son las que nombra un registro; el resumen del original sigue sellado"
        }
        Code::Stripped => {
            "las copias sin los datos que guardó la cámara son las que nombra un registro; el resumen del original sigue \
             sellado"
        }
        Code::Tail => "el registro es el del punto de control que usted dio, o ha crecido a partir de él",
        Code::Clock | Code::Fork | Code::Truth | Code::Texts | Code::PhotoMissing => "",
    }
}

/// What isn't.
pub fn not_proven(code: Code) -> &'static str {
    match code {
        Code::Timestamp => {
            "ninguna hora externa de una autoridad que usted haya nombrado: vale el reloj del dispositivo"
        }
        Code::OtherLogs => "se sabe de otro dispositivo cuyo registro no está en el paquete",
        Code::Photo => "hay fotografías nombradas por registros que no están en el paquete",
        Code::Disclosure => "hay valores omitidos",
        Code::Key => "de quién es la clave: compare su huella con la que le entregaron",
        Code::Redaction => "que en las fotografías cubiertas no se cambiara nada más",
        Code::Stripped => {
            "que los píxeles de estas copias sean los de los originales: compare una con su original donde esté"
        }
        Code::PhotoMissing => "hay fotografías cuyo original el taller dice que ya no tiene",
        Code::Tail => "que no falte nada al final: compare un punto de control recibido antes",
        Code::Truth => "\"sin cambios desde que se selló\" queda demostrado; \"verdadero\" no",
        Code::Texts => "este texto no lo escribió el programa, o falta: no actúe según él",
        _ => "no quedó demostrado",
    }
}

/// What is wrong.
pub fn problem(code: Code) -> &'static str {
    match code {
        Code::Container => "el contenedor no es el que prescribe el formato",
        Code::Manifest => "el archivo no es el que se empaquetó",
        Code::Signature => "falta la firma o no corresponde",
        Code::Timestamp => "el sello de tiempo no vale",
        Code::Chain => "un registro se cambió, se quitó o se movió",
        Code::OtherLogs => "otro dispositivo conocía un registro que aquí falta",
        Code::Photo => "la fotografía no es la del registro",
        Code::Report => "el informe no es el del registro",
        Code::Disclosure => "el valor no es el que se selló",
        Code::Key => "la clave no es la que debe ser",
        Code::Redaction => "la fotografía cubierta no es la del registro",
        Code::Stripped => "la copia sin los datos de la cámara no es la del registro",
        Code::PhotoMissing => "el registro de una fotografía perdida no dice lo que debe",
        Code::Tail => "faltan registros al final, o el paquete es anterior a su punto de control",
        Code::Fork => "hay dos historias distintas del mismo registro",
        Code::Clock | Code::Truth | Code::Texts => "algo no corresponde",
    }
}

/// Headings and fixed words.
pub const ES: Words = Words {
    good: "CORRECTO: nada en este paquete ha cambiado desde que se selló.",
    bad: "INCORRECTO: no se fíe de este paquete.",
    job: "Taller y trabajo",
    refused: "QUÉ ESTÁ MAL",
    signed: "QUIÉN FIRMÓ",
    times: "HORAS QUE VIENEN DE FUERA",
    doubts: "QUÉ ES RARO EN LOS RELOJES DE LOS DISPOSITIVOS (no se corrigió nada)",
    proven: "DEMOSTRADO",
    not_proven: "NO DEMOSTRADO",
    photos: "Fotografías presentes / con partes cubiertas / en copia sin los datos de la cámara / perdidas en el taller / omitidas",
    values: "Nombres y textos mostrados / omitidos",
    records: "registros",
    key: "clave",
    from_record: "desde el registro",
    named: "nombrada por la clave anterior",
    after_loss: "UNA RUPTURA: la clave anterior se declaró perdida y no la nombró",
    trusted: "es la clave que usted nombró, o aquella responde por esta",
    compare: "compare esta huella con la que le entregaron",
    first: "los primeros",
    by: "existían a más tardar",
    by_named: "una autoridad que usted nombró",
    by_stranger: "NO es una autoridad que usted nombró: no demuestra nada",
    others: "Todas las demás horas son las de los relojes de los dispositivos.",
    own_clock: "Ninguna que cuente: todas las horas son las de los relojes de los dispositivos.",
};
