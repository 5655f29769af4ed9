//! A verdict in words for somebody who has never seen one.

use clap::ValueEnum;
use evidence::packet::{Code, Finding, KeyCame, LogVerdict, Verdict};
use std::fmt::Write as _;

/// The language of the verdict.
#[derive(Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum Speech {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// The whole text, ended by a line feed.
pub fn text(verdict: &Verdict, speech: Speech) -> String {
    let words = if speech == Speech::Es { &ES } else { &EN };
    let mut lines = vec![(if verdict.good { words.good } else { words.bad }).to_owned()];
    lines.extend(verdict.job.iter().map(|job| format!("{}: {job}", words.job)));
    section(&mut lines, words.refused, statements(&verdict.problems, speech, Kind::Problem));
    section(&mut lines, words.signed, verdict.logs.iter().flat_map(|log| signer(log, words)).collect());
    section(&mut lines, words.times, times(verdict, words));
    section(&mut lines, words.doubts, statements(&verdict.doubts, speech, Kind::Doubt));
    section(&mut lines, words.proven, statements(&verdict.proven, speech, Kind::Proven));
    section(&mut lines, words.not_proven, statements(&verdict.not_proven, speech, Kind::NotProven));
    let photos = &verdict.photos;
    let (here, out) = (photos.present, photos.absent.saturating_sub(photos.redacted));
    lines.push(String::new());
    lines.push(format!("{}: {here} / {} / {out}", words.photos, photos.redacted));
    lines.push(format!("{}: {} / {}", words.values, verdict.disclosed, verdict.withheld));
    lines.join("\n") + "\n"
}

fn section(lines: &mut Vec<String>, title: &str, items: Vec<String>) {
    if !items.is_empty() {
        lines.extend([String::new(), title.to_owned()]);
        lines.extend(items.iter().map(|item| format!("  - {item}")));
    }
}

fn signer(log: &LogVerdict, words: &Words) -> Vec<String> {
    let mut said = vec![format!("{}: {} {}", log.device, log.records, words.records)];
    for key in &log.keys {
        let mut line = format!("{}: {}", words.key, key.words);
        let came = match key.came {
            KeyCame::First => "",
            KeyCame::Named => words.named,
            KeyCame::AfterLoss => words.after_loss,
        };
        if key.came != KeyCame::First {
            let _ = write!(line, " ({} {}: {came})", words.from_record, key.from);
        }
        let trust = if key.trusted { words.trusted } else { words.compare };
        said.push(format!("{line}\n      {}\n      {trust}", key.fingerprint));
    }
    said
}

fn times(verdict: &Verdict, words: &Words) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for time in &verdict.times {
        let (stamp, trust) = (&time.stamp, if time.trusted { words.by_named } else { words.by_stranger });
        let size = format!("{} {} {}", words.first, time.size, words.records);
        said.push(format!(
            "{}: {size}, {} {}: {} ({trust})",
            time.device, words.by, stamp.time, stamp.authority
        ));
    }
    said.push(
        if verdict.times.iter().any(|time| time.trusted) { words.others } else { words.own_clock }.to_owned(),
    );
    said
}

#[derive(Clone, Copy)]
enum Kind {
    Problem,
    Proven,
    NotProven,
    Doubt,
}

/// In English as the verifier says it; in Spanish by what it is about, because the verifier speaks English alone.
fn statements(findings: &[Finding], speech: Speech, kind: Kind) -> Vec<String> {
    let one = |finding: &Finding| {
        let said = match (speech, kind) {
            (Speech::En, _) => finding.what.clone(),
            (Speech::Es, Kind::Proven) => proven_es(finding.code).to_owned(),
            (Speech::Es, Kind::NotProven) => not_proven_es(finding.code).to_owned(),
            (Speech::Es, Kind::Doubt) => {
                format!("el reloj del dispositivo no corrió como el tiempo ({})", finding.what)
            }
            (Speech::Es, Kind::Problem) => format!("{} ({})", problem_es(finding.code), finding.what),
        };
        finding.place.iter().fold(said, |said, place| format!("{place}: {said}"))
    };
    let mut said: Vec<String> = findings.iter().map(one).collect();
    said.dedup();
    said
}

fn proven_es(code: Code) -> &'static str {
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
        Code::Tail => "el registro es el del punto de control que usted dio, o ha crecido a partir de él",
        Code::Clock | Code::Fork | Code::Truth | Code::Texts => "",
    }
}

fn not_proven_es(code: Code) -> &'static str {
    match code {
        Code::Timestamp => {
            "ninguna hora externa de una autoridad que usted haya nombrado: vale el reloj del dispositivo"
        }
        Code::OtherLogs => "se sabe de otro dispositivo cuyo registro no está en el paquete",
        Code::Photo => "hay fotografías nombradas por registros que no están en el paquete",
        Code::Disclosure => "hay valores omitidos",
        Code::Key => "de quién es la clave: compare su huella con la que le entregaron",
        Code::Redaction => "que en las fotografías cubiertas no se cambiara nada más",
        Code::Tail => "que no falte nada al final: compare un punto de control recibido antes",
        Code::Truth => "\"sin cambios desde que se selló\" queda demostrado; \"verdadero\" no",
        Code::Texts => "este texto no lo escribió el programa, o falta: no actúe según él",
        _ => "no quedó demostrado",
    }
}

fn problem_es(code: Code) -> &'static str {
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
        Code::Tail => "faltan registros al final, o el paquete es anterior a su punto de control",
        Code::Fork => "hay dos historias distintas del mismo registro",
        Code::Clock | Code::Truth | Code::Texts => "algo no corresponde",
    }
}

struct Words {
    good: &'static str,
    bad: &'static str,
    job: &'static str,
    refused: &'static str,
    signed: &'static str,
    times: &'static str,
    doubts: &'static str,
    proven: &'static str,
    not_proven: &'static str,
    photos: &'static str,
    values: &'static str,
    records: &'static str,
    key: &'static str,
    from_record: &'static str,
    named: &'static str,
    after_loss: &'static str,
    trusted: &'static str,
    compare: &'static str,
    first: &'static str,
    by: &'static str,
    by_named: &'static str,
    by_stranger: &'static str,
    others: &'static str,
    own_clock: &'static str,
}

const EN: Words = Words {
    good: "GOOD: nothing in this packet was changed since it was sealed.",
    bad: "BAD: do not rely on this packet.",
    job: "Shop and job",
    refused: "WHAT IS WRONG",
    signed: "WHO SIGNED",
    times: "TIMES FROM OUTSIDE",
    doubts: "WHAT IS STRANGE ABOUT THE DEVICES' CLOCKS (nothing was corrected)",
    proven: "PROVEN",
    not_proven: "NOT PROVEN",
    photos: "Photos here / shown with parts covered / left out",
    values: "Names and texts shown / withheld",
    records: "records",
    key: "key",
    from_record: "from record",
    named: "named by the key before it",
    after_loss: "A BREAK: the key before it was reported lost and did not name it",
    trusted: "this is the key you named, or that key vouches for it",
    compare: "compare this fingerprint with the one you were given",
    first: "the first",
    by: "existed by",
    by_named: "an authority you named",
    by_stranger: "NOT an authority you named: proves nothing",
    others: "All other times are those of the devices' own clocks.",
    own_clock: "None that counts: all times are those of the devices' own clocks.",
};

const ES: Words = Words {
    good: "CORRECTO: nada en este paquete ha cambiado desde que se selló.",
    bad: "INCORRECTO: no se fíe de este paquete.",
    job: "Taller y trabajo",
    refused: "QUÉ ESTÁ MAL",
    signed: "QUIÉN FIRMÓ",
    times: "HORAS QUE VIENEN DE FUERA",
    doubts: "QUÉ ES RARO EN LOS RELOJES DE LOS DISPOSITIVOS (no se corrigió nada)",
    proven: "DEMOSTRADO",
    not_proven: "NO DEMOSTRADO",
    photos: "Fotografías presentes / con partes cubiertas / omitidas",
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

#[cfg(test)]
mod tests {
    use super::*;

    fn about(codes: &[Code]) -> Vec<Finding> {
        codes.iter().map(|code| Finding { code: *code, place: None, what: "detail".to_owned() }).collect()
    }

    /// What the verifier says in each list (see its source): none may come out empty or unexplained in Spanish.
    #[test]
    fn whatever_the_verifier_says_has_spanish_words() {
        use Code::*;
        let proven = [
            Container, Manifest, Signature, Timestamp, Chain, Photo, Report, Disclosure, Key, Redaction, Tail,
        ];
        let open = [Timestamp, OtherLogs, Photo, Disclosure, Key, Redaction, Tail, Truth, Texts];
        let wrong = [
            Container, Manifest, Signature, Timestamp, Chain, OtherLogs, Photo, Report, Disclosure, Key,
            Redaction, Tail, Fork,
        ];
        assert!(proven.iter().all(|code| !proven_es(*code).is_empty()));
        assert!(open.iter().all(|code| not_proven_es(*code) != not_proven_es(Container)));
        assert!(wrong.iter().all(|code| problem_es(*code) != problem_es(Truth)));
    }

    #[test]
    fn a_bad_verdict_says_first_what_is_wrong_and_both_languages_have_the_same_parts() {
        let verdict = Verdict {
            problems: about(&[Code::Photo]),
            doubts: about(&[Code::Clock]),
            proven: about(&[Code::Chain]),
            not_proven: about(&[Code::Truth]),
            ..Verdict::default()
        };
        let (en, es) = (text(&verdict, Speech::En), text(&verdict, Speech::Es));
        assert!(en.starts_with("BAD:") && es.starts_with("INCORRECTO:"));
        assert!(en.find(EN.refused) < en.find(EN.times) && en.contains(EN.own_clock));
        assert_eq!(en.lines().count(), es.lines().count());
        let good = Verdict { good: true, ..Verdict::default() };
        assert!(
            text(&good, Speech::En).starts_with("GOOD:") && !text(&good, Speech::En).contains(EN.refused)
        );
    }
}
