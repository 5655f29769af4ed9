//! A picture as SVG, to look at. Colors are those of the light look.

use std::fmt::Write;

use drawing::{Anchor, Judged, Lead, Look, Picture, Sign};

const PAPER: &str = "#f5f0e3";
const SHEET: &str = "#fffdf6";
const INK: &str = "#15120d";
const FADED: &str = "#3f392f";
const LAMP: &str = "#ffce4a";
const COLD: &str = "#0b3a75";
const DIM: &str = "#6d6557";

fn hex(code: &str) -> &'static str {
    match code {
        "BK" => "#17150f",
        "BN" => "#7d4a1f",
        "RD" => "#c8281e",
        "OG" => "#e27420",
        "YE" => "#f0be1d",
        "GN" | "GNYE" => "#1c7c3c",
        "BU" => "#2160c4",
        "VT" => "#7b3fa0",
        "GY" | "SR" => "#8d9296",
        "WH" => "#f4f0e4",
        "PK" => "#e58aa8",
        "TQ" => "#1fa39a",
        _ => "#a49b88",
    }
}

pub fn svg(picture: &Picture) -> String {
    let mut out = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{0}" height="{1}" viewBox="0 0 {0} {1}" font-family="TM, sans-serif">"#,
        picture.width, picture.height
    );
    for bar in picture.bars.iter().filter(|bar| bar.look == Look::Proven) {
        let _ = write!(
            out,
            r#"<path d="M{} {}L{} {}" stroke="{INK}" stroke-width="16" stroke-linecap="round"/><path d="M{} {}L{} {}" stroke="{LAMP}" stroke-width="13" stroke-linecap="round"/>"#,
            bar.x, bar.y, bar.to_x, bar.to_y, bar.x, bar.y, bar.to_x, bar.to_y
        );
    }
    for wire in &picture.wires {
        let d = path(&wire.path);
        let stroke = |color: &str, width: f64, more: &str| {
            format!(
                r#"<path d="{d}" fill="none" stroke="{color}" stroke-width="{width}" stroke-linejoin="round" {more}/>"#
            )
        };
        match wire.look {
            Look::RuledOut => {
                out.push_str(&stroke(DIM, 2.5, r#"stroke-dasharray="2 4.5" stroke-linecap="round""#))
            }
            look => {
                if look == Look::Proven {
                    out.push_str(&stroke(INK, 15.0, ""));
                    out.push_str(&stroke(LAMP, 12.5, ""));
                }
                out.push_str(&stroke(INK, 7.0, ""));
                out.push_str(&stroke(wire.colors.first().map_or("#a49b88", |code| hex(code)), 5.0, ""));
                if let Some(stripe) = wire.colors.get(1) {
                    out.push_str(&stroke(hex(stripe), 5.0, r#"stroke-dasharray="5 11""#));
                }
            }
        }
    }
    for bar in &picture.bars {
        let _ = write!(
            out,
            r#"<path d="M{} {}L{} {}" stroke="{INK}" stroke-width="6" stroke-linecap="round"/>"#,
            bar.x, bar.y, bar.to_x, bar.to_y
        );
    }
    for frame in &picture.boxes {
        let fill = match frame.look {
            _ if frame.relay => "none",
            Look::Proven => LAMP,
            _ => SHEET,
        };
        let (stroke, dash) = edge(frame.look);
        let _ = write!(
            out,
            r#"<rect x="{}" y="{}" width="{}" height="{}" rx="10" fill="{fill}" stroke="{stroke}" stroke-width="2.5" {dash}/>"#,
            frame.x, frame.y, frame.width, frame.height
        );
    }
    for link in &picture.links {
        let dash = if link.dashed { r#"stroke-dasharray="3 4""# } else { "" };
        let _ = write!(
            out,
            r#"<path d="{}" fill="none" stroke="{}" stroke-width="2.4" {dash}/>"#,
            path(&link.path),
            edge(link.look).0
        );
    }
    for symbol in &picture.symbols {
        let (stroke, dash) = edge(symbol.look);
        let fill = if symbol.look == Look::Proven { LAMP } else { PAPER };
        let body = match symbol.sign {
            Sign::Fuse => format!(
                r#"<rect x="-9" y="-15" width="18" height="30" rx="4" fill="{fill}" {dash}/><path d="M0 -15v30"/>"#
            ),
            Sign::Switch | Sign::Contact => {
                let tip = match (symbol.closed, symbol.mirrored) {
                    (Some(true), _) => 0,
                    (_, true) => -11,
                    _ => 11,
                };
                format!(
                    r#"<rect x="-7" y="-15" width="14" height="30" fill="{fill}" stroke="none"/><circle cy="-15" r="4" fill="{stroke}"/><circle cy="15" r="4" fill="{stroke}"/><path d="M0 15L{tip} -13" stroke-width="4"/>"#
                )
            }
            Sign::Lamp => {
                format!(r#"<circle r="16" fill="{fill}" {dash}/><path d="M-11 -11l22 22m0 -22l-22 22"/>"#)
            }
            Sign::Motor => format!(r#"<circle r="16" fill="{fill}" {dash}/>"#),
            Sign::Diode => format!(r#"<path d="M-11 -10h22l-11 20zM-11 11h22" fill="{fill}"/>"#),
            Sign::Coil => format!(
                r#"<rect x="-13" y="-17" width="26" height="34" rx="3" fill="{fill}" {dash}/><path d="M-13 9l26 -18"/>"#
            ),
            Sign::Thermistor => format!(
                r#"<rect x="-10" y="-16" width="20" height="32" rx="3" fill="{fill}" {dash}/><path d="M-16 13h6l20 -26" fill="none"/>"#
            ),
            Sign::PickUp => format!(
                r#"<rect x="-11" y="-16" width="22" height="32" rx="3" fill="{fill}" {dash}/><path d="M-5 -10q8 3 0 7q8 3 0 7q8 3 0 7" fill="none"/>"#
            ),
            Sign::Resistor => {
                format!(r#"<rect x="-10" y="-16" width="20" height="32" rx="3" fill="{fill}" {dash}/>"#)
            }
        };
        let turn = if symbol.turned { " rotate(90)" } else { "" };
        let opacity = if symbol.absent { r#" opacity="0.35""# } else { "" };
        let _ = write!(
            out,
            r#"<g transform="translate({} {}){turn}" stroke="{stroke}" stroke-width="2.2" stroke-linecap="round"{opacity}>{body}</g>"#,
            symbol.x, symbol.y
        );
        if symbol.sign == Sign::Motor {
            let _ = write!(
                out,
                r#"<text x="{}" y="{}" font-size="17" font-weight="800" text-anchor="middle" fill="{stroke}">M</text>"#,
                symbol.x,
                symbol.y + 6.0
            );
        }
        if symbol.replaced_by.is_some() {
            let _ = write!(
                out,
                r##"<circle cx="{}" cy="{}" r="22" fill="none" stroke="#6b2f00" stroke-width="2.5"/>"##,
                symbol.x, symbol.y
            );
        }
    }
    for name in &picture.names {
        let anchor = match name.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let (weight, color) = match (name.pin, name.look) {
            (true, _) => (700, FADED),
            (_, Look::RuledOut) => (500, FADED),
            _ => (800, INK),
        };
        for (row, line) in name.lines.iter().enumerate() {
            let _ = write!(
                out,
                r#"<text x="{}" y="{}" font-size="{}" font-weight="{weight}" text-anchor="{anchor}" fill="{color}" stroke="{PAPER}" stroke-width="2.5" paint-order="stroke">{}</text>"#,
                name.x,
                name.y + 17.0 * row as f64,
                name.size,
                escaped(line)
            );
        }
    }
    for ring in &picture.rings {
        let _ = write!(
            out,
            r#"<circle cx="{}" cy="{}" r="6" fill="{PAPER}" stroke="{INK}" stroke-width="2.5"/>"#,
            ring.x, ring.y
        );
    }
    for capsule in &picture.capsules {
        let (x, y) = (capsule.x - capsule.width / 2.0, capsule.y - 15.0);
        let _ = write!(
            out,
            r#"<rect x="{x}" y="{y}" width="{}" height="30" rx="6" fill="{LAMP}" stroke="{INK}" stroke-width="2.2"/><text x="{}" y="{}" font-size="16" font-weight="800" text-anchor="middle">{}</text>"#,
            capsule.width,
            capsule.x,
            capsule.y + 5.5,
            escaped(&capsule.text)
        );
    }
    for stub in &picture.stubs {
        let way = if stub.up { -1 } else { 1 };
        let _ = write!(
            out,
            r#"<path d="M{} {}l9 {}l9 {}" fill="none" stroke="{INK}" stroke-width="2.8"/>"#,
            stub.x - 9.0,
            stub.y - 8.0 * f64::from(way),
            10 * way,
            -10 * way
        );
    }
    for bead in &picture.beads {
        let (x, y, w) = (bead.x - bead.width / 2.0, bead.y, bead.width);
        let bad = matches!(bead.judged, Judged::Low | Judged::High);
        if bad {
            let fill = if bead.now { COLD } else { PAPER };
            let _ = write!(
                out,
                r#"<path d="M{x} {}h{w}l-5 7 5 7-5 7 5 7h-{w}l5-7-5-7 5-7z" fill="{fill}" stroke="{COLD}" stroke-width="1.5"/>"#,
                y - 14.0
            );
            let (turn, text) =
                (if bead.judged == Judged::Low { 0 } else { 180 }, if bead.now { "#fff" } else { COLD });
            let _ = write!(
                out,
                r#"<path transform="translate({} {y}) rotate({turn})" d="M0 -7v13m-5 -5l5 5 5 -5" fill="none" stroke="{text}" stroke-width="2.6"/>"#,
                x + 15.0
            );
            let _ = write!(
                out,
                r#"<text x="{}" y="{}" font-size="17.5" font-weight="800" text-anchor="middle" fill="{text}">{}</text>"#,
                bead.x + 9.0,
                y + 6.2,
                escaped(&bead.text)
            );
        } else {
            let fill = match (bead.judged, bead.now) {
                (Judged::Good, true) => LAMP,
                _ => PAPER,
            };
            let _ = write!(
                out,
                r#"<rect x="{x}" y="{}" width="{w}" height="28" rx="14" fill="{fill}" stroke="{INK}" stroke-width="2"/><text x="{}" y="{}" font-size="17.5" font-weight="{}" text-anchor="middle">{}</text>"#,
                y - 14.0,
                bead.x,
                y + 6.2,
                if bead.now { 800 } else { 600 },
                escaped(&bead.text)
            );
        }
        if let Some([from, to]) = bead.across {
            let _ = write!(
                out,
                r#"<path d="M{} {}L{} {}" stroke="{INK}" stroke-width="2" stroke-dasharray="1 4" stroke-linecap="round"/>"#,
                from[0], from[1], to[0], to[1]
            );
        }
    }
    for disc in &picture.discs {
        let (x, y, r) = (disc.x, disc.y, disc.radius - 1.0);
        let _ = write!(
            out,
            r#"<circle cx="{x}" cy="{y}" r="{r}" fill="{COLD}" stroke="{PAPER}" stroke-width="2.5"/><circle cx="{x}" cy="{y}" r="{}" fill="none" stroke="{COLD}" stroke-width="1.5" stroke-dasharray="3 3"/>"#,
            r + 2.5
        );
        if disc.parts.len() > 1 {
            let _ = write!(
                out,
                r##"<circle cx="{x}" cy="{y}" r="{}" fill="none" stroke="#fff" stroke-width="1.2"/>"##,
                r - 3.0
            );
        }
        let _ = write!(
            out,
            r##"<text x="{x}" y="{}" font-size="{}" font-weight="800" text-anchor="middle" fill="#fff">{}</text>"##,
            y + disc.size * 0.35,
            disc.size,
            disc.text
        );
    }
    for eye in &picture.eyes {
        let _ = write!(
            out,
            r#"<circle cx="{0}" cy="{1}" r="12" fill="{SHEET}" stroke="{INK}" stroke-width="3"/><circle cx="{0}" cy="{1}" r="4.5" fill="{INK}"/>"#,
            eye.x, eye.y
        );
    }
    for plate in &picture.plates {
        let color = if plate.lead == Lead::Red { "#a50e16" } else { "#0d0c0a" };
        let [x, y] = plate.tip;
        let [to_x, to_y] = plate.end;
        let (dx, dy) = (to_x - x, to_y - y);
        let length = dx.hypot(dy).max(1.0);
        let at = |share: f64| (x + dx / length * share, y + dy / length * share);
        let (a, b) = (at(8.0), at(26.0));
        let _ = write!(
            out,
            r##"<path d="M{} {}L{to_x} {to_y}" stroke="#fff" stroke-width="21" stroke-linecap="round"/><path d="M{} {}L{to_x} {to_y}" stroke="{color}" stroke-width="16" stroke-linecap="round"/><path d="M{} {}L{} {}" stroke="{INK}" stroke-width="5"/>"##,
            b.0, b.1, b.0, b.1, a.0, a.1, b.0, b.1
        );
        let _ = write!(
            out,
            r##"<rect x="{}" y="{}" width="{}" height="{}" rx="8" fill="{color}" stroke="#fff" stroke-width="2.5"/><text x="{}" y="{}" font-size="15.5" font-weight="800" text-anchor="middle" fill="#fff">{}</text>"##,
            plate.x,
            plate.y,
            plate.width,
            plate.height,
            plate.x + plate.width / 2.0,
            plate.y + 18.5,
            plate.text
        );
    }
    out.push_str("</svg>");
    out
}

fn edge(look: Look) -> (&'static str, &'static str) {
    match look {
        Look::RuledOut => (DIM, r#"stroke-dasharray="5 3""#),
        _ => (INK, ""),
    }
}

fn path(points: &[[f64; 2]]) -> String {
    let points: Vec<String> = points.iter().map(|[x, y]| format!("{x} {y}")).collect();
    format!("M{}", points.join("L"))
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}
