//! One file per noun; each command converts, calls the api and converts back.
pub mod about;
