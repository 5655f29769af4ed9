//! Asking a real authority over real connections, and every way in which no answer comes.
#![allow(clippy::unwrap_used, clippy::panic)] // Helpers outside `#[test]` may panic here too.
#![cfg(test)]

mod asking;
