//! Our own demo job, played through the api: its readings lead to a corroded control wire, its fix is proven.

use crate::shop::{Shop, approval};
use api::view::JobView;
use serde_json::{Value, json};

const JOB: &str = include_str!("../../demo-data/1-van-radiator-fan/job.json");

impl Shop {
    /// Plays the demo job as far as the step `until` (counted within its kind, from 1), without its photos.
    pub fn demo_job(&self, until: (&str, usize)) -> JobView {
        let job = self.job().job;
        let script: Value = serde_json::from_str(JOB).unwrap();
        let mut seen = 0;
        for step in script["steps"].as_array().unwrap().iter().filter(|step| step.get("refused").is_none()) {
            self.at(step["at"].as_str().unwrap());
            self.step(&job, step["do"].as_str().unwrap(), step["with"].clone());
            seen += usize::from(step["do"] == until.0);
            if seen == until.1 {
                break;
            }
        }
        self.workshop.job_view(&job).unwrap()
    }

    fn step(&self, job: &str, kind: &str, mut with: Value) {
        for place in ["/photos", "/reading/photos"] {
            if let Some(photos) = with.pointer_mut(place) {
                *photos = json!([]);
            }
        }
        let shop = &self.workshop;
        let kept = match kind {
            "meter_choose" => shop.meter_choose(job, &entry(with)),
            "circuit_choose" => shop.circuit_choose(job, with.as_str().unwrap()),
            "reading_keep" => shop.reading_keep(job, &entry(with)),
            "reading_correct" => {
                with["corrects"] = json!(self.record(job, &with["corrects"]));
                shop.reading_correct(job, &entry(with))
            }
            "finding_keep" => shop.finding_keep(job, &entry(with)),
            "estimate_keep" => shop.estimate_keep(job, &entry(with)),
            "approval_keep" => {
                let version = u32::try_from(with["version"].as_u64().unwrap()).unwrap();
                shop.approval_keep(job, &approval(version))
            }
            "proof_keep" => {
                for side in ["before", "after"] {
                    with[side] = json!(self.record(job, &with[side]));
                }
                shop.proof_keep(job, &entry(with))
            }
            "invoice_keep" => shop.invoice_keep(job, &entry(with)),
            "hand_over" => shop.hand_over(job, &entry(with)),
            _ => return,
        };
        kept.unwrap_or_else(|error| panic!("{kind}: {error}"));
    }

    /// `#6` → the record of reading 6.
    fn record(&self, job: &str, name: &Value) -> String {
        let number: u32 = name.as_str().unwrap().trim_start_matches('#').parse().unwrap();
        let view = self.workshop.job_view(job).unwrap();
        view.readings.iter().find(|reading| reading.number == number).unwrap().record.clone()
    }
}

fn entry<T: serde::de::DeserializeOwned>(with: Value) -> T {
    serde_json::from_value(with).unwrap()
}
