//! Every way a picture can be refused, with what to do about it.

use crate::Kind;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Why bytes could not be read as a picture, or no small picture could be made of them.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PhotoError {
    /// Zero bytes arrived.
    #[error("the picture file is empty: take the photo again, or choose another file")]
    Empty,
    /// The first bytes are of no kind of picture that can be kept.
    #[error("this file is not a JPEG, PNG, WebP or HEIC picture: choose a photo in one of these forms")]
    NotAPicture,
    /// The picture stops before its own end mark: it is kept and shown as far as it goes, but can't be taken apart.
    #[error(
        "this {kind} picture stops before its end: copy it from the camera again, or take the photo again"
    )]
    Truncated {
        /// What the first bytes say it is.
        kind: Kind,
    },
    /// The picture is whole but its inside makes no sense.
    #[error(
        "this {kind} picture is damaged ({detail}): copy it from the camera again, or take the photo again"
    )]
    Damaged {
        /// What the first bytes say it is.
        kind: Kind,
        /// What was wrong, in a few words.
        detail: String,
    },
    /// The picture can be kept, but no small picture can be made of it.
    #[error("{0}")]
    NoPreview(WhyNoPreview),
    /// Nothing to cover, or an area outside the picture.
    #[error("no area of the picture is marked: draw a rectangle over what must not be seen")]
    NoArea,
    /// A mark that isn't on the picture, or more of them than fit.
    #[error("a mark lies outside the picture, has no text, or there are too many: move or remove it")]
    BadMark,
    /// What a picture carries besides itself can't be taken out here.
    #[error(
        "what a {kind} picture carries besides the picture can't be taken out here: send it whole, or keep it here"
    )]
    CannotStrip {
        /// What the first bytes say it is.
        kind: Kind,
    },
    /// The number reader could not be run.
    #[error("the display can't be read on this device ({0}): type the number; the photo is unchanged")]
    Reader(String),
    /// The networks that read papers could not be run.
    #[error("the paper can't be read on this device ({0}): type what it says; the photo is unchanged")]
    Paper(String),
    /// The small picture could not be written.
    #[error("the small picture could not be made ({0}): the original is unchanged, try again")]
    Encode(String),
}

/// Why a picture that can be kept has no preview.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WhyNoPreview {
    /// HEVC needs a decoder that this app does not carry.
    #[error("a HEIC picture is kept as it is but can't be shown here: open it in the phone's own gallery")]
    Heic,
    /// More pixels or bytes than the stated limits.
    #[error(
        "the picture is too large to show here: it is kept as it is; take the next one at a lower resolution"
    )]
    TooLarge,
    /// Lossless, arithmetic or another coding that hardly a camera writes.
    #[error(
        "a rare form of JPEG that can't be shown here: it is kept as it is; save it as a usual JPEG to show it"
    )]
    Rare,
    /// Nothing of the picture can be read, most often because the file stops too early.
    #[error(
        "nothing of this picture can be shown: it is kept as it is; copy it from the camera again, or take it again"
    )]
    Unreadable,
}
