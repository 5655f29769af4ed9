use crate::view::{JobRow, Verdict};
use ::job::{Job, Permission, Stage, Waiting};
use store::JobSummary;

/// The line of the list.
pub(crate) fn row(row: store::JobRow) -> JobRow {
    JobRow {
        job: row.job,
        number: u32::try_from(row.number).unwrap_or(u32::MAX),
        vehicle: row.vehicle,
        customer: row.customer,
        complaint: row.title,
        stage: row.stage,
        waiting: row.waiting.split_whitespace().map(str::to_owned).collect(),
        opened: row.opened,
        changed: row.changed,
    }
}

/// What the list and the search hold of a job.
pub(crate) fn summary(id: &str, job: &Job) -> JobSummary {
    let intake = &job.intake;
    let text = |field: &Option<String>| field.clone().unwrap_or_default();
    let vehicle = [&intake.year, &intake.make, &intake.model].map(text).join(" ");
    let complaint = text(&intake.complaint);
    let searched = [
        &intake.vin,
        &intake.plate,
        &intake.make,
        &intake.model,
        &intake.customer,
        &intake.phone,
        &intake.email,
        &intake.complaint,
        &intake.approver,
        &intake.approver_name,
        &intake.approver_phone,
    ];
    let codes = intake.fault_codes.iter().flatten().map(|code| code.written());
    JobSummary {
        row: store::JobRow {
            job: id.to_owned(),
            number: u64::from(job.opened.number),
            title: complaint.chars().take(140).collect(),
            vehicle: vehicle.split_whitespace().collect::<Vec<_>>().join(" "),
            customer: text(&intake.customer),
            stage: Stage::of(job).code().to_owned(),
            waiting: Waiting::of(job).iter().map(|wait| wait.what.code()).collect::<Vec<_>>().join(" "),
            opened: job.opened_wall.clone(),
            changed: job.changed_wall.clone(),
        },
        search_text: searched.map(text).into_iter().chain(codes).collect::<Vec<_>>().join("\n"),
        cache: crate::closed_jobs::cached(job),
        cache_records: u64::try_from(job.timeline.len()).unwrap_or(u64::MAX),
    }
}

/// A permission for the screen.
pub(crate) fn verdict(permission: Permission) -> Verdict {
    match permission {
        Ok(()) => Verdict { allowed: true, ..Verdict::default() },
        Err(refused) => Verdict { allowed: false, reason: refused.reason.to_owned(), values: refused.values },
    }
}
