use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{Descriptor, EVERYBODY, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Most marks on a photo.
pub const MOST_MARKS: usize = 40;
/// Most characters of a mark's text.
pub const MOST_LETTERS: usize = 60;
/// Full side of a picture in the unit of a mark's places.
const WHOLE: u32 = 1000;

/// Marks on a photo as they stand from now on: each such record takes the place of the one before it, which stays in the log.
/// Nothing is drawn on the original; marks are drawn into copies.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoMarked {
    /// SHA-256 of the original.
    pub photo: Digest,
    /// The marks, lowest first; none once all were taken off.
    pub marks: Vec<PhotoMark>,
    /// Texts of the marks that have one, in their order. Absent where they are withheld.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub texts: Vec<String>,
}

/// One mark. Places are thousandths of the upright picture's width and height, from its upper left corner.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoMark {
    /// What is drawn.
    pub shape: MarkShape,
    /// In which color.
    pub tone: MarkTone,
    /// Beginning of an arrow; upper left corner of an ellipse's rectangle, or of a text.
    pub x: u32,
    /// The same, from above.
    pub y: u32,
    /// What an arrow points at; lower right corner of an ellipse's rectangle; of a text the same as `x`.
    pub to_x: u32,
    /// The same, from above; of a text the same as `y`.
    pub to_y: u32,
}

/// What a mark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum MarkShape {
    /// An arrow.
    Arrow,
    /// An ellipse.
    Ellipse,
    /// A line of text.
    Text,
}

/// Color of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum MarkTone {
    /// Deep blue: what is off.
    Cold,
    /// Yellow: what is good.
    Lamp,
    /// Ink: anything else.
    Ink,
}

impl PhotoMarked {
    /// Every mark with its text; empty for a mark that has none, and where the texts are withheld.
    pub fn with_texts(&self) -> impl Iterator<Item = (&PhotoMark, &str)> {
        let mut texts = self.texts.iter().map(String::as_str);
        self.marks.iter().map(move |mark| match mark.shape {
            MarkShape::Text => (mark, texts.next().unwrap_or_default()),
            MarkShape::Arrow | MarkShape::Ellipse => (mark, ""),
        })
    }

    fn lettered(&self) -> usize {
        self.marks.iter().filter(|mark| mark.shape == MarkShape::Text).count()
    }
}

impl PhotoMark {
    /// Lies on the picture, and something of it can be seen.
    fn is_seen(&self) -> bool {
        let inside = [self.x, self.y, self.to_x, self.to_y].iter().all(|share| *share <= WHOLE);
        inside
            && match self.shape {
                MarkShape::Arrow => (self.x, self.y) != (self.to_x, self.to_y),
                MarkShape::Ellipse => self.x < self.to_x && self.y < self.to_y,
                MarkShape::Text => true,
            }
    }
}

/// A line that can be read: not blank, not too long, no control characters.
fn is_line(text: &str) -> bool {
    !text.trim().is_empty() && text.chars().count() <= MOST_LETTERS && !text.chars().any(char::is_control)
}

impl RecordKind for PhotoMarked {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "photo_marked",
        // Who gets the texts follows the photo they stand on (`api::actions::sharing`).
        &[Field::public("photo"), Field::public("marks"), Field::forgettable("texts", EVERYBODY)],
    );

    fn photos(&self) -> Vec<Digest> {
        vec![self.photo]
    }

    fn check(&self) -> Result<(), Unusable> {
        if self.marks.len() > MOST_MARKS {
            return Err(Unusable::new("marks", format!("more than {}", MOST_MARKS)));
        }
        // Withheld texts are all away; those that are here belong to the marks.
        if !self.texts.is_empty() && self.texts.len() != self.lettered() {
            return Err(Unusable::new("texts", "as many as there are marks with a text"));
        }
        if !self.marks.iter().all(PhotoMark::is_seen) {
            return Err(Unusable::new("marks", "a mark lies off the picture or has no extent"));
        }
        if !self.texts.iter().all(|text| is_line(text)) {
            return Err(Unusable::new(
                "texts",
                format!("each is one line of 1 to {MOST_LETTERS} characters"),
            ));
        }
        Ok(())
    }

    fn admissible(&self) -> Result<(), Unusable> {
        if self.texts.len() == self.lettered() {
            Ok(())
        } else {
            Err(Unusable::new("texts", "as many as there are marks with a text"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(shape: MarkShape, [x, y, to_x, to_y]: [u32; 4]) -> PhotoMark {
        PhotoMark { shape, tone: MarkTone::Cold, x, y, to_x, to_y }
    }

    fn marked(marks: Vec<PhotoMark>, texts: &[&str]) -> PhotoMarked {
        let texts = texts.iter().map(|text| (*text).to_owned()).collect();
        PhotoMarked { photo: Digest::of(b"a picture"), marks, texts }
    }

    /// Byte for byte what such a record holds: it has to be read as long as there are packets.
    #[test]
    fn its_form_on_record_stays() {
        let event = marked(vec![mark(MarkShape::Arrow, [10, 20, 500, 600])], &[]);
        let sealed = format!(
            r#"{{"photo":"{}","marks":[{{"shape":"arrow","tone":"cold","x":10,"y":20,"to_x":500,"to_y":600}}]}}"#,
            Digest::of(b"a picture")
        );
        assert_eq!(serde_json::to_string(&event).unwrap(), sealed);
        assert_eq!(serde_json::from_str::<PhotoMarked>(&sealed).unwrap(), event);
    }

    #[test]
    fn texts_belong_to_marks_or_are_all_withheld() {
        let two = vec![
            mark(MarkShape::Text, [100, 100, 100, 100]),
            mark(MarkShape::Arrow, [0, 0, 1000, 1000]),
            mark(MarkShape::Text, [200, 200, 200, 200]),
        ];
        let both = marked(two.clone(), &["chafed here", "green crust"]);
        assert_eq!(both.admissible(), Ok(()));
        let texts: Vec<&str> = both.with_texts().map(|(_, text)| text).collect();
        assert_eq!(texts, ["chafed here", "", "green crust"]);
        // Withheld: still readable, but nothing new may be sealed like it.
        let withheld = marked(two.clone(), &[]);
        assert_eq!(withheld.check(), Ok(()));
        assert!(withheld.admissible().is_err());
        assert!(marked(two, &["only one"]).check().is_err());
    }

    #[test]
    fn what_cannot_be_drawn_is_refused() {
        let bad = [
            marked(vec![mark(MarkShape::Arrow, [5, 5, 5, 5])], &[]),
            marked(vec![mark(MarkShape::Arrow, [5, 5, 5, 1001])], &[]),
            marked(vec![mark(MarkShape::Ellipse, [600, 5, 500, 90])], &[]),
            marked(vec![mark(MarkShape::Text, [5, 5, 5, 5])], &["one\ntwo"]),
            marked(vec![mark(MarkShape::Text, [5, 5, 5, 5])], &[&"x".repeat(MOST_LETTERS + 1)]),
            marked(vec![mark(MarkShape::Arrow, [5, 5, 50, 50]); MOST_MARKS + 1], &[]),
        ];
        for event in bad {
            assert!(event.check().is_err(), "{event:?}");
        }
        let fits = marked(vec![mark(MarkShape::Arrow, [5, 5, 50, 50]); MOST_MARKS], &[]);
        assert_eq!(fits.check(), Ok(()));
    }
}
