//! What is wrong with a picture, from the picture alone.

use drawing::{Anchor, Picture};

/// What a thing is and where it lies.
#[derive(Debug, Clone)]
pub struct Thing {
    pub sort: &'static str,
    pub id: String,
    pub rect: [f64; 4],
    /// A text inside a box, a disc on the symbol it belongs to: no overlap.
    pub own: Vec<String>,
}

/// Two things may share this much, px.
const TOUCH: f64 = 2.0;

pub fn things(picture: &Picture, width: &impl Fn(&str, f64) -> f64) -> Vec<Thing> {
    let mut things = Vec::new();
    let mut add = |sort, id: String, x: f64, y: f64, w: f64, h: f64, own: Vec<String>| {
        things.push(Thing { sort, id, rect: [x, y, x + w, y + h], own });
    };
    for frame in &picture.boxes {
        add("box", frame.id.clone(), frame.x, frame.y, frame.width, frame.height, frame.parts.clone());
    }
    for symbol in &picture.symbols {
        let (w, h) = match symbol.sign {
            drawing::Sign::Fuse => (18.0, 30.0),
            drawing::Sign::Switch | drawing::Sign::Contact => (16.0, 32.0),
            drawing::Sign::Lamp | drawing::Sign::Motor => (32.0, 32.0),
            drawing::Sign::Diode => (22.0, 22.0),
            drawing::Sign::Coil | drawing::Sign::PickUp => (26.0, 34.0),
            _ => (22.0, 32.0),
        };
        let (w, h) = if symbol.turned { (h, w) } else { (w, h) };
        add(
            "symbol",
            symbol.part.clone(),
            symbol.x - w / 2.0,
            symbol.y - h / 2.0,
            w,
            h,
            vec![symbol.part.clone()],
        );
    }
    for name in &picture.names {
        for (row, line) in name.lines.iter().enumerate() {
            let wide = width(line, name.size);
            let left = match name.anchor {
                Anchor::Start => name.x,
                Anchor::Middle => name.x - wide / 2.0,
                Anchor::End => name.x - wide,
            };
            let y = name.y + 17.0 * row as f64;
            add("text", line.clone(), left, y - 0.72 * name.size, wide, 0.74 * name.size, Vec::new());
        }
    }
    for bead in &picture.beads {
        add(
            "bead",
            bead.text.clone(),
            bead.x - bead.width / 2.0,
            bead.y - 14.0,
            bead.width,
            28.0,
            Vec::new(),
        );
    }
    for disc in &picture.discs {
        let r = disc.radius - 1.0;
        add("disc", disc.parts.join("+"), disc.x - r, disc.y - r, 2.0 * r, 2.0 * r, disc.parts.clone());
    }
    for capsule in &picture.capsules {
        add(
            "capsule",
            capsule.text.clone(),
            capsule.x - capsule.width / 2.0,
            capsule.y - 15.0,
            capsule.width,
            30.0,
            Vec::new(),
        );
    }
    for stub in &picture.stubs {
        let y = if stub.up { stub.y - 2.0 } else { stub.y - 8.0 };
        add("stub", String::new(), stub.x - 9.0, y, 18.0, 10.0, Vec::new());
    }
    for eye in &picture.eyes {
        add("eye", eye.point.clone(), eye.x - 12.0, eye.y - 12.0, 24.0, 24.0, Vec::new());
    }
    for plate in &picture.plates {
        add("plate", plate.text.clone(), plate.x, plate.y, plate.width, plate.height, Vec::new());
    }
    things
}

/// Pairs that overlap by more than 2 px both ways. Boxes hold texts, symbols and discs that lie inside them whole; a disc may lie on
/// its own symbol, a bull's-eye on a box's edge.
pub fn overlaps(picture: &Picture, width: &impl Fn(&str, f64) -> f64) -> Vec<String> {
    let things = things(picture, width);
    let mut found = Vec::new();
    for (place, one) in things.iter().enumerate() {
        for other in &things[place + 1..] {
            let wide = one.rect[2].min(other.rect[2]) - one.rect[0].max(other.rect[0]);
            let tall = one.rect[3].min(other.rect[3]) - one.rect[1].max(other.rect[1]);
            if wide <= TOUCH || tall <= TOUCH || may(one, other) {
                continue;
            }
            if one.sort == "disc" && other.sort == "disc" {
                let middle = |thing: &Thing| {
                    ((thing.rect[0] + thing.rect[2]) / 2.0, (thing.rect[1] + thing.rect[3]) / 2.0)
                };
                let ((x, y), (to_x, to_y)) = (middle(one), middle(other));
                let radii = (one.rect[2] - one.rect[0] + other.rect[2] - other.rect[0]) / 2.0;
                if (to_x - x).hypot(to_y - y) > radii - TOUCH {
                    continue;
                }
            }
            found.push(format!("{} {} / {} {}", one.sort, one.id, other.sort, other.id));
        }
    }
    for thing in &things {
        let [x, y, to_x, to_y] = thing.rect;
        if x < -1.0 || y < -1.0 || to_x > picture.width + 1.0 || to_y > picture.height + 1.0 {
            found.push(format!("{} {} lies outside", thing.sort, thing.id));
        }
    }
    found
}

fn may(one: &Thing, other: &Thing) -> bool {
    if one.sort == "box" {
        let inside = one.rect[0] <= other.rect[0] + 1.0
            && one.rect[1] <= other.rect[1] + 1.0
            && one.rect[2] >= other.rect[2] - 1.0
            && one.rect[3] >= other.rect[3] - 1.0;
        return (inside && matches!(other.sort, "text" | "symbol" | "disc")) || other.sort == "eye";
    }
    one.sort == "symbol" && other.sort == "disc" && other.own.contains(&one.id)
}

/// Wires that cross: one upright, one level, both going on.
pub fn crossings(picture: &Picture) -> usize {
    let mut lines: Vec<[f64; 4]> = Vec::new();
    for wire in &picture.wires {
        for (from, to) in wire.path.iter().zip(wire.path.iter().skip(1)) {
            lines.push([from[0], from[1], to[0], to[1]]);
        }
    }
    lines.extend(picture.bars.iter().map(|bar| [bar.x, bar.y, bar.to_x, bar.to_y]));
    let upright = |line: &&[f64; 4]| (line[0] - line[2]).abs() < 0.5;
    let mut many = 0;
    for up in lines.iter().filter(upright) {
        for level in lines.iter().filter(|line| !upright(line)) {
            let (x, y) = (up[0], level[1]);
            let across = x > level[0].min(level[2]) + 3.0 && x < level[0].max(level[2]) - 3.0;
            if across && y > up[1].min(up[3]) + 3.0 && y < up[1].max(up[3]) - 3.0 {
                many += 1;
            }
        }
    }
    many
}

/// The smallest letters.
pub fn smallest(picture: &Picture) -> f64 {
    picture
        .names
        .iter()
        .map(|name| name.size)
        .chain(picture.discs.iter().map(|disc| disc.size))
        .fold(f64::INFINITY, f64::min)
}
