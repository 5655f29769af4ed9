//! Jobs through the api as a window would drive it: what is refused, what is kept, what is doubted.
#![cfg(test)]

mod at_home;
mod bad_input;
mod bench;
mod billing;
mod blocks;
mod check_in;
mod copies;
mod demo_job;
mod keys;
mod kinds;
mod ledger;
mod list;
mod marks;
mod notices;
mod one_door;
mod own_circuits;
mod own_lines;
mod photos_out;
mod programming;
mod programming_day;
mod recipients;
mod recordings;
mod refusals;
mod regions;
mod replaced;
mod safe_keeping;
mod series;
mod shop;
mod tax_inside;
mod times;
mod tool;
mod verdicts;
mod withheld;
mod year;
mod yes;
