//! The drawing as an SVG for paper: the same picture as a screen shows, in inks that hold in black and white. No leads and no
//! targets of a tap: nothing is asked for on paper.

mod symbols;

use crate::picture::{Anchor, Bead, Disc, Judged, Look, Name, Picture, Wire};
use std::fmt::Write;

const INK: &str = "#14181b";
const DIM: &str = "#7d8388";
const LAMP: &str = "#f6df8f";
const BAD: &str = "#8c1111";
const GOOD: &str = "#0a4a2c";
const COPPER: &str = "#6b2e00";

/// The picture as SVG, at its own size; empty where the circuit can't be drawn.
#[must_use]
pub fn paper_svg(picture: &Picture) -> String {
    if !picture.drawn {
        return String::new();
    }
    let mut svg = Svg(String::new());
    let (width, height) = (picture.width, picture.height);
    svg.put(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" \
         font-family=\"Source Sans 3\" font-weight=\"600\" stroke-linejoin=\"round\">"
    ));
    under(picture, &mut svg);
    for symbol in &picture.symbols {
        symbols::symbol(symbol, &mut svg);
    }
    picture.names.iter().for_each(|one| name(one, &mut svg));
    over(picture, &mut svg);
    svg.put(format_args!("</svg>"));
    svg.0
}

/// What is written so far.
pub(super) struct Svg(String);

impl Svg {
    pub(super) fn put(&mut self, what: std::fmt::Arguments<'_>) {
        // Writing into a string can't fail.
        let _ = self.0.write_fmt(what);
    }

    fn text(&mut self, x: f64, y: f64, size: f64, fill: &str, anchor: Anchor, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let text = escaped(text);
        // Letters that lie on a line stay readable; white ones lie on a filled disc.
        let halo = if fill == "#ffffff" { "none" } else { "#ffffff" };
        self.put(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"{fill}\" text-anchor=\"{anchor}\" \
             stroke=\"{halo}\" stroke-width=\"2.5\" paint-order=\"stroke\">{text}</text>"
        ));
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

fn path_of(corners: &[[f64; 2]]) -> String {
    let corners: Vec<String> = corners.iter().map(|[x, y]| format!("{x} {y}")).collect();
    format!("M{}", corners.join("L"))
}

/// Rails, wires, boxes and the lines in them.
fn under(picture: &Picture, svg: &mut Svg) {
    for bar in picture.bars.iter().filter(|bar| bar.look == Look::Proven) {
        let (x, y, to_x, to_y) = (bar.x, bar.y, bar.to_x, bar.to_y);
        svg.put(format_args!(
            "<path d=\"M{x} {y}L{to_x} {to_y}\" stroke=\"{LAMP}\" stroke-width=\"14\" stroke-linecap=\"round\"/>"
        ));
    }
    picture.wires.iter().for_each(|one| wire(one, svg));
    for bar in &picture.bars {
        let (x, y, to_x, to_y) = (bar.x, bar.y, bar.to_x, bar.to_y);
        svg.put(format_args!(
            "<path d=\"M{x} {y}L{to_x} {to_y}\" stroke=\"{INK}\" stroke-width=\"6\" stroke-linecap=\"round\"/>"
        ));
    }
    for frame in &picture.boxes {
        let fill = match (frame.relay, frame.look) {
            (true, _) => "none",
            (false, Look::Proven) => LAMP,
            (false, _) => "#ffffff",
        };
        let (stroke, dash) =
            if frame.look == Look::RuledOut { (DIM, " stroke-dasharray=\"5 3\"") } else { (INK, "") };
        let (x, y, width, height) = (frame.x, frame.y, frame.width, frame.height);
        svg.put(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" rx=\"10\" fill=\"{fill}\" \
             stroke=\"{stroke}\" stroke-width=\"2.5\"{dash}/>"
        ));
    }
    for link in &picture.links {
        let stroke = if link.look == Look::RuledOut { DIM } else { INK };
        let dash = if link.dashed { " stroke-dasharray=\"3 4\"" } else { "" };
        let path = path_of(&link.path);
        svg.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{stroke}\" stroke-width=\"2.4\"{dash}/>"
        ));
    }
}

fn wire(wire: &Wire, svg: &mut Svg) {
    let path = path_of(&wire.path);
    match wire.look {
        Look::RuledOut => svg.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{DIM}\" stroke-width=\"2.5\" stroke-dasharray=\"2 4.5\" \
             stroke-linecap=\"round\"/>"
        )),
        look => {
            if look == Look::Proven {
                svg.put(format_args!(
                    "<path d=\"{path}\" fill=\"none\" stroke=\"{LAMP}\" stroke-width=\"14\"/>"
                ));
            }
            svg.put(format_args!("<path d=\"{path}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"4\"/>"));
        }
    }
}

fn name(name: &Name, svg: &mut Svg) {
    let fill = if name.look == Look::RuledOut { DIM } else { INK };
    let mut y = name.y;
    for line in &name.lines {
        svg.text(name.x, y, name.size, fill, name.anchor, line);
        y += 17.0;
    }
}

/// Points, readings, suspects, folded runs and branches.
fn over(picture: &Picture, svg: &mut Svg) {
    for ring in &picture.rings {
        let (x, y) = (ring.x, ring.y);
        svg.put(format_args!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"5\" fill=\"#ffffff\" stroke=\"{INK}\" stroke-width=\"2\"/>"
        ));
    }
    for capsule in &picture.capsules {
        let (x, y, width) = (capsule.x - capsule.width / 2.0, capsule.y - 15.0, capsule.width);
        svg.put(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"30\" rx=\"6\" fill=\"{LAMP}\" stroke=\"{INK}\" \
             stroke-width=\"2\"/>"
        ));
        svg.text(capsule.x, capsule.y + 5.5, 15.0, INK, Anchor::Middle, &capsule.text);
    }
    for stub in &picture.stubs {
        let way = if stub.up { -1.0 } else { 1.0 };
        let (x, y, down, up) = (stub.x - 9.0, stub.y - 8.0 * way, 10.0 * way, -10.0 * way);
        svg.put(format_args!(
            "<path d=\"M{x} {y}l9 {down}l9 {up}\" fill=\"none\" stroke=\"{INK}\" stroke-width=\"2.8\"/>"
        ));
    }
    picture.beads.iter().for_each(|one| bead(one, svg));
    picture.discs.iter().for_each(|one| disc(one, svg));
}

/// A good reading is a pill, a bad one has square corners, a thick edge and an arrow to the side that it is off: told apart
/// without color.
fn bead(bead: &Bead, svg: &mut Svg) {
    if let Some([[x, y], [to_x, to_y]]) = bead.across {
        svg.put(format_args!(
            "<path d=\"M{x} {y}L{to_x} {to_y}\" stroke=\"{INK}\" stroke-width=\"2\" stroke-dasharray=\"1 4\" \
             stroke-linecap=\"round\"/>"
        ));
    }
    let bad = matches!(bead.judged, Judged::Low | Judged::High);
    let (stroke, thick, round) = match bead.judged {
        Judged::Good => (GOOD, 2.0, 14.0),
        Judged::Unknown => (INK, 2.0, 14.0),
        Judged::Low | Judged::High => (BAD, 3.5, 0.0),
    };
    let (x, y, width) = (bead.x - bead.width / 2.0, bead.y - 14.0, bead.width);
    svg.put(format_args!(
        "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"28\" rx=\"{round}\" fill=\"#ffffff\" stroke=\"{stroke}\" \
         stroke-width=\"{thick}\"/>"
    ));
    if bad {
        let (x, y, turn) = (x + 13.0, bead.y, if bead.judged == Judged::Low { 0 } else { 180 });
        svg.put(format_args!(
            "<path transform=\"translate({x} {y}) rotate({turn})\" d=\"M0 -7v13m-5 -5l5 5 5 -5\" fill=\"none\" \
             stroke=\"{BAD}\" stroke-width=\"2.2\"/>"
        ));
    }
    let x = if bad { bead.x + 8.0 } else { bead.x };
    svg.text(x, bead.y + 6.0, 16.0, stroke, Anchor::Middle, &bead.text);
}

fn disc(disc: &Disc, svg: &mut Svg) {
    let (x, y, radius) = (disc.x, disc.y, disc.radius);
    svg.put(format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"{COPPER}\"/>"));
    svg.text(x, y + disc.size * 0.35, disc.size, "#ffffff", Anchor::Middle, &disc.text);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::Ring;

    #[test]
    fn names_are_no_markup_and_an_undrawn_circuit_is_empty() {
        assert_eq!(paper_svg(&Picture::default()), "");
        let lines = vec!["<script> & co".to_owned()];
        let name = Name { lines, size: 14.0, ..Name::default() };
        let picture =
            Picture { drawn: true, names: vec![name], rings: vec![Ring::default()], ..Picture::default() };
        let svg = paper_svg(&picture);
        assert!(svg.contains("&lt;script&gt; &amp; co") && !svg.contains("<script"), "{svg}");
    }
}
