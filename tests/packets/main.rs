//! Packets against programs others wrote, against chance, and against somebody who rewrites them.
#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)] // Helpers outside `#[test]` may panic here too.

mod agreement;
mod authority;
mod by_hand;
mod chance;
mod doubts;
mod folder;
mod followed;
mod forgery;
mod given;
mod go_tools;
mod histories;
mod huge;
mod named;
mod outside;
mod outsider;
mod recipe;
mod remembered;
mod rich;
mod sample;
mod standards;
mod strangers;
mod timestamps;
mod vectors;
