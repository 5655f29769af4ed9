//! Opens the shop, and says what opening found.

use crate::error::CliError;
use api::Workshop;
use api::view::NoticeView;
use std::path::Path;
use words::{Catalogue, Language};

/// Opens the shop. What opening found and nobody has acknowledged yet is said on standard error, each with its remedy.
///
/// # Errors
/// A folder that can't be opened.
pub fn shop(data: &Path) -> Result<Workshop, CliError> {
    let workshop = Workshop::open(data)?;
    let notices = workshop.notices_view()?;
    let language = language(&workshop)?;
    notices.iter().for_each(|notice| eprintln!("{}", sentence(notice, language)));
    Ok(workshop)
}

/// A notice in words: what happened, then what to do.
pub fn sentence(notice: &NoticeView, language: Language) -> String {
    let catalogue = Catalogue::of(language);
    let values: Vec<(&str, &str)> =
        notice.values.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let said = |ending: &str| catalogue.say(&format!("notice_{}{ending}", notice.code), &values);
    format!("{} {} {}", notice.found, said(""), said("_remedy"))
}

/// The language the shop chose for its screens.
///
/// # Errors
/// Settings that can't be read.
pub fn language(workshop: &Workshop) -> Result<Language, CliError> {
    Ok(Language::of(&workshop.shop_view()?.preferences.language))
}
