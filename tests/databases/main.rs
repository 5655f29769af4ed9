//! The data folder against kills, lost power, full disks, damage and its own past.
#![cfg(test)]

mod backup;
mod checked;
mod contents;
mod cuts;
mod errors;
mod exchange;
mod faulty_disk;
mod forged;
mod forgetting;
mod frozen;
mod home;
mod keys;
mod kills;
mod order;
mod power;
mod programs;
mod rebuilding;
mod recorded;
mod recorded_sqlite;
mod sample;
mod scale;
mod sound;
mod starved;
mod synced_disk;
mod trace;
mod unsynced;
