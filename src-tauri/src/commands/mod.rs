//! What the window may call: one file per noun; each command converts, calls the api and converts back.
//! All run off the window's thread, which must never wait for a disk.
pub mod backup;
pub mod circuit;
pub mod draft;
pub mod files;
pub mod intake;
pub mod job;
pub mod keys;
pub mod money;
pub mod papers;
pub mod photo;
pub mod programming;
pub mod reading;
pub mod sample;
pub mod shop;
pub mod time;
pub mod tool;

/// What a command gives back: its answer, or the refusal with a code for the words of the screen.
type Answer<T> = Result<T, api::ErrorView>;
