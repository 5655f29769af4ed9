//! What a job is: events become records, records fold into a [`Job`], and the job says what may be done next.
//!
//! Pure: no file, no clock, no chance. Time, keys and salts come in as values; the same records give the same job.

#![deny(missing_docs)]

mod agreed;
mod apart;
mod attempts;
mod balance;
pub mod cautions;
mod closed;
mod code;
pub mod contact;
mod copies;
mod doubt;
mod error;
pub mod event;
mod facts;
pub mod finding;
mod fold;
pub mod forgetting;
pub mod label;
pub mod ledger;
pub mod measured;
mod meter_mode;
mod next_step;
mod observed;
pub mod own_lines;
pub mod paper;
pub mod reasoning;
mod recipient;
mod refused;
pub mod routes;
pub mod rule;
pub mod rules;
pub mod sharing;
mod stage;
mod steps;
pub mod suppliers;
mod to_prove;
pub mod tool;
pub mod vin;
mod waiting;
mod warranty;
mod weight;

pub use agreed::approved_total;
pub use attempts::{Attempt, ProgrammingCost};
pub use balance::Balance;
pub use closed::ProvenCause;
pub use code::code;
pub use doubt::{PICTURE_CUT_OFF, RecordDoubt};
pub use error::JobError;
pub use event::Event;
pub use facts::{DatedAmount, JobFacts, ModuleSpared};
pub use fold::{Job, Kept, KeptRecord, Reading, TimelineRecord};
pub use meter_mode::MeterMode;
pub use next_step::NextStep;
pub use observed::counted;
pub use reasoning::Reasoning;
pub use recipient::Recipient;
pub use refused::{Permission, Refused};
pub use stage::Stage;
pub use steps::{JobNext, Step, StepLine, StepState, next, steps};
pub use to_prove::{ToProve, telling};
pub use waiting::{Wait, Waiting};
pub use warranty::{WarrantyEnd, warranty_end};
pub use weight::Weight;
