//! Symbols of the parts, our own strokes after IEC 60617: the same as the screens draw.

use super::{DIM, INK, LAMP, Svg};
use crate::picture::{Look, Sign, Symbol};

const ROUND: &str = "M-16 0A16 16 0 1 1 16 0A16 16 0 1 1 -16 0";

pub(super) fn symbol(symbol: &Symbol, svg: &mut Svg) {
    let (filled, bare) = strokes(symbol);
    let stroke = if symbol.look == Look::RuledOut { DIM } else { INK };
    let fill = if symbol.look == Look::Proven { LAMP } else { "#ffffff" };
    let (x, y) = (symbol.x, symbol.y);
    let turn = if symbol.turned { " rotate(90)" } else { "" };
    let faint = if symbol.absent { " opacity=\"0.4\"" } else { "" };
    svg.put(format_args!(
        "<g transform=\"translate({x} {y}){turn}\" stroke=\"{stroke}\" stroke-width=\"2.2\" stroke-linecap=\"round\"{faint}>"
    ));
    if matches!(symbol.sign, Sign::Switch | Sign::Contact) {
        svg.put(format_args!(
            "<rect x=\"-7\" y=\"-15\" width=\"14\" height=\"30\" fill=\"#ffffff\" stroke=\"none\"/>\
             <circle cy=\"-15\" r=\"4\" fill=\"{stroke}\"/><circle cy=\"15\" r=\"4\" fill=\"{stroke}\"/>"
        ));
    }
    if !filled.is_empty() {
        svg.put(format_args!("<path d=\"{filled}\" fill=\"{fill}\"/>"));
    }
    if !bare.is_empty() {
        svg.put(format_args!("<path d=\"{bare}\" fill=\"none\"/>"));
    }
    svg.put(format_args!("</g>"));
}

/// What is filled, then bare lines, round the symbol's middle.
fn strokes(symbol: &Symbol) -> (&'static str, String) {
    let said = |filled, bare: &str| (filled, bare.to_owned());
    match symbol.sign {
        Sign::Fuse => said(
            "M-5 -15h10a4 4 0 0 1 4 4v22a4 4 0 0 1 -4 4h-10a4 4 0 0 1 -4 -4v-22a4 4 0 0 1 4 -4z",
            "M0 -15v30",
        ),
        Sign::Switch | Sign::Contact => {
            let tip = match (symbol.closed, symbol.mirrored) {
                (Some(true), _) => 0,
                (_, true) => -11,
                (_, false) => 11,
            };
            ("", format!("M0 15L{tip} -13"))
        }
        Sign::Lamp => said(ROUND, "M-11 -11l22 22m0 -22l-22 22"),
        Sign::Motor => said(ROUND, "M-7 6v-12l7 8l7 -8v12"),
        Sign::Diode => said("M-11 -10h22l-11 20z", "M-11 11h22"),
        Sign::Coil => said("M-13 -17h26v34h-26z", "M-13 9l26 -18"),
        Sign::Thermistor => said("M-10 -16h20v32h-20z", "M-16 13h6l20 -26"),
        Sign::PickUp => said("M-11 -16h22v32h-22z", "M-5 -10q8 3 0 7q8 3 0 7q8 3 0 7"),
        Sign::Resistor => said("M-10 -16h20v32h-20z", ""),
    }
}
