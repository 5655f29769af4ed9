//! The data folder against kills, lost power, full disks, damage and its own past.
#![cfg(test)]

mod backup;
mod contents;
mod errors;
mod exchange;
mod faulty_disk;
mod forgetting;
mod frozen;
mod home;
mod keys;
mod kills;
mod order;
mod power;
mod programs;
mod rebuilding;
mod sample;
mod scale;
mod sound;
mod starved;
mod trace;
mod unsynced;
