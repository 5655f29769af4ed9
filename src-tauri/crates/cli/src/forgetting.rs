//! Deleting a customer's data from a shell: said line by line before it is done, in the shop's language.

use crate::error::CliError;
use crate::open;
use api::view::{FieldCount, ForgettingView, NamedFileView};
use std::path::Path;
use words::Catalogue;

/// Says what would be destroyed, what stays and what is out of reach; with `now`, destroys it.
///
/// # Errors
/// An unknown job; nothing left to destroy; a folder that can't be written to.
pub fn forget(data: &Path, number: u32, now: bool) -> Result<(), CliError> {
    let workshop = open::shop(data)?;
    let job = workshop.job_of_number(number)?;
    let catalogue = Catalogue::of(open::language(&workshop)?);
    lines(&workshop.forgetting_view(&job)?, catalogue).iter().for_each(|line| println!("{line}"));
    if now {
        workshop.customer_forget(&job)?;
        println!("\n{}", catalogue.say("forget_done", &[]));
    }
    Ok(())
}

fn lines(plan: &ForgettingView, words: &Catalogue) -> Vec<String> {
    let say = |key: &str| words.say(key, &[]);
    let counted = |key: &str, count: u32| {
        (count > 0).then(|| format!("  {}", words.say(key, &[("count", &count.to_string())])))
    };
    let mut lines = vec![say("forget_goes")];
    if plan.nothing_left {
        lines.push(format!("  {}", say("forget_nothing")));
    }
    lines.extend(plan.goes.iter().map(|count| field(count, words)));
    lines.extend(counted("forget_files", plan.files));
    lines.extend(counted("forget_previews", plan.previews));
    lines.extend(counted("forget_drafts", plan.drafts));
    lines.extend(named("forget_exports", &plan.exports, words));
    lines.extend(named("forget_put_aside", &plan.put_aside, words));
    lines.push(format!("\n{}", say("forget_stays")));
    if plan.stays.is_empty() {
        lines.push(format!("  {}", say("forget_stays_nothing")));
    } else {
        lines.extend(plan.stays.iter().map(|count| field(count, words)));
        let values =
            [("until", plan.until.as_str()), ("region", &plan.region.en), ("years", &plan.years.to_string())];
        lines.push(format!("  {}", words.say("forget_until", &values)));
    }
    lines.push(format!("\n{}", say("forget_out")));
    for copy in &plan.copies {
        let what = match copy.what.as_str() {
            "backup" => say("copy_backup"),
            "open_export" => say("copy_open_export"),
            _ => say("copy_packet"),
        };
        lines.push(format!("  {what}: {} · {} · SHA-256 {}", copy.name, copy.written, copy.sha256));
        if copy.here {
            lines.push(format!("    {}", words.say("copy_here", &[("path", &copy.path)])));
        }
    }
    lines
}

fn field(count: &FieldCount, words: &Catalogue) -> String {
    let key = format!("value_{}_{}", count.kind, count.field);
    let name = if words.has(&key) { words.say(&key, &[]) } else { count.field.clone() };
    format!("  {name} ({})", count.count)
}

fn named(heading: &str, files: &[NamedFileView], words: &Catalogue) -> Vec<String> {
    let heading = (!files.is_empty()).then(|| format!("  {}", words.say(heading, &[])));
    let file = |file: &NamedFileView| {
        format!("    {}", words.say("file_named", &[("name", &file.name), ("bytes", &file.bytes)]))
    };
    heading.into_iter().chain(files.iter().map(file)).collect()
}
