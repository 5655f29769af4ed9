//! Forgetting a customer: shown first, then recorded, then destroyed.

use super::estimates;
use super::shop::region_name;
use crate::act::{Loaded, Settles};
use crate::view::{CopyView, FieldCount, ForgettingView, JobView, NamedFileView};
use crate::{ApiError, Workshop, show};
use chrono::{DateTime, NaiveDate};
use evidence::Digest;
use job::forgetting::Forgetting;
use job::rules::RegionRules;
use std::collections::BTreeMap;
use store::{ForgetRequest, NamedFile};

/// What a copy of a packet is called among those out of reach.
const PACKET: &str = "packet";

impl Workshop {
    /// What forgetting the customer of a job would destroy, and what stays and why. Nothing is changed.
    ///
    /// # Errors
    /// An unknown job.
    pub fn forgetting_view(&self, job: &str) -> Result<ForgettingView, ApiError> {
        let loaded = self.load(job)?;
        let plan = self.plan(&loaded)?;
        let rules = self.rules_of_keeping(&loaded.job);
        let stays =
            self.values_at_hand(job)?.into_iter().map(|(kind, value, _)| (kind, value.name().to_owned()));
        let kept: Vec<(String, String)> =
            plan.kept.iter().map(|kept| (kept.kind.clone(), kept.field.clone())).collect();
        let exports = self.exports_of(job, &loaded.job)?;
        let there = self.store.to_be_forgotten(job, &plan.files, &exports)?;
        Ok(ForgettingView {
            goes: counted(plan.values.iter().map(|(_, kind, field)| (kind.clone(), field.clone()))),
            stays: counted(stays.filter(|pair| kept.contains(pair))),
            files: u32::try_from(plan.files.len()).unwrap_or(u32::MAX),
            until: plan.until.map(|day| day.to_string()).unwrap_or_default(),
            years: rules.keeps_years,
            region: region_name(&rules),
            packets: u32::try_from(self.packets(job)?.len()).unwrap_or(u32::MAX),
            nothing_left: plan.is_empty() && there.put_aside.is_empty(),
            files_bytes: there.originals_bytes.to_string(),
            previews: small(there.previews),
            drafts: small(there.drafts),
            exports: there.exports.iter().map(named).collect(),
            put_aside: there.put_aside.iter().map(named).collect(),
            copies: self.out_of_reach(job)?,
        })
    }

    /// Forgets the customer of a job as far as the region's duty to keep records allows. The record of it comes first:
    /// a crash in between leaves values that the next start, or the next request, destroys.
    ///
    /// # Errors
    /// Nothing left to destroy; a backup or an export being written; a store that can't be written to.
    pub fn customer_forget(&self, job: &str) -> Result<JobView, ApiError> {
        // Nobody adds anything between the plan and the end of what it names.
        let _turn = self.store.turn();
        let mut loaded = self.load_to_change(job)?;
        let plan = self.plan(&loaded)?;
        // Files put aside hold what was forgotten before they were reached.
        if plan.is_empty() && self.store.to_be_forgotten(job, &[], &[])?.put_aside.is_empty() {
            return Err(ApiError::refused("nothing_to_forget"));
        }
        self.admit(&mut loaded, &plan.event(), &Settles::default())?;
        let values: Vec<Digest> = plan.values.iter().map(|(digest, ..)| *digest).collect();
        let left = self.store.disclosures(job)?.into_iter().filter(|value| !values.contains(&value.digest()));
        let rest = self.fold_with(job, left.collect())?;
        let summary = show::summary(job, &rest);
        let exports = self.exports_of(job, &rest)?;
        let forgotten = self.store.forget(&ForgetRequest {
            job,
            disclosures: &values,
            originals: &plan.files,
            exports: &exports,
            damaged_copies: true,
            summary: Some(&summary),
        });
        // Memory keeps nothing of it either, also where only a part could be destroyed yet.
        self.folds.drop_all();
        self.closed_jobs.drop_all();
        forgotten?;
        self.forget_packets(job)?;
        self.job_view(job)
    }

    fn plan(&self, loaded: &Loaded) -> Result<Forgetting, ApiError> {
        let job = loaded.log.job.as_str();
        let named: BTreeMap<Digest, String> =
            self.values_at_hand(job)?.into_iter().map(|(kind, value, _)| (value.digest(), kind)).collect();
        // A value whose record can't be read has no kind, and nothing holds it back.
        let of_kind = |digest: &Digest| named.get(digest).cloned().unwrap_or_default();
        let values: Vec<(Digest, String, String)> = self
            .store
            .disclosures(job)?
            .into_iter()
            .map(|value| (value.digest(), of_kind(&value.digest()), value.name().to_owned()))
            .collect();
        let here = |digest: &Digest| self.store.original_path(digest).is_some();
        let rules = self.rules_of_keeping(&loaded.job);
        Ok(Forgetting::plan(&loaded.job, &values, &rules, self.today(), &here))
    }

    /// The rules of the job's region, with the years that the shop chose, never fewer than the region's rule wants.
    /// A setting that can't be read holds nobody's forgetting up: the usual years hold then.
    fn rules_of_keeping(&self, job: &job::Job) -> RegionRules {
        let mut rules = estimates::rules_of(job);
        rules.keeps_years = rules.keeps(self.shop().ok().and_then(|shop| shop.keeps_years));
        rules
    }

    fn today(&self) -> NaiveDate {
        let wall = self.clock.moment().wall;
        DateTime::parse_from_rfc3339(&wall).map(|time| time.date_naive()).unwrap_or(NaiveDate::MIN)
    }

    /// What was written and may have left this device.
    fn out_of_reach(&self, job: &str) -> Result<Vec<CopyView>, ApiError> {
        let opened = self.store.job(job)?.map(|row| row.opened).unwrap_or_default();
        let packets = self.packets(job)?.into_iter().map(|packet| {
            let file = self.written_file(packet);
            CopyView {
                what: PACKET.to_owned(),
                // The one on this device goes with the rest; what was handed out is a copy of it.
                here: false,
                name: file.name,
                path: file.path,
                written: file.written,
                sha256: file.sha256,
            }
        });
        Ok(self.copies_since(&opened)?.into_iter().chain(packets).collect())
    }

    /// Reports and packets of the job that lie in the export folder.
    fn exports_of(&self, job: &str, rest: &job::Job) -> Result<Vec<String>, ApiError> {
        let reports = rest.reports.iter().map(|kept| kept.event.name.clone());
        let packets = self.packets(job)?.into_iter().map(|packet| packet.name);
        let here = |name: &String| self.export_folder().join(name).exists();
        Ok(reports.chain(packets).filter(here).collect())
    }
}

fn named(file: &NamedFile) -> NamedFileView {
    NamedFileView { name: file.name.clone(), bytes: file.bytes.to_string() }
}

fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn counted(fields: impl Iterator<Item = (String, String)>) -> Vec<FieldCount> {
    let mut counts: BTreeMap<(String, String), u32> = BTreeMap::new();
    fields.for_each(|pair| *counts.entry(pair).or_default() += 1);
    counts.into_iter().map(|((kind, field), count)| FieldCount { kind, field, count }).collect()
}
