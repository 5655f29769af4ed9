//! What the shop has set about programming: which routes it can have and at which numbers.

use super::programming::ROUTES;
use crate::entry::SettingEntry;
use crate::show::{amount_view, number_view};
use crate::view::{NumberView, ProgrammingSettingsView, RouteSettingView};
use crate::{ApiError, Workshop, settings, show, typed};
use job::event::ProgrammingRoute;
use job::routes::{HOOK_UP_MINUTES, ModulePrice, ProgrammingSettings, RouteHistory};
use job::tool::source;
use money::Marks;
use std::collections::BTreeMap;

const SETTING: &str = "programming";

impl Workshop {
    /// What the shop has set about programming, with where each number comes from.
    ///
    /// # Errors
    /// A store or a setting that can't be read.
    pub fn programming_settings(&self) -> Result<ProgrammingSettingsView, ApiError> {
        let settings = self.programming_settings_kept()?;
        let module = self.usual_module_price()?;
        let planned = self.planned("", &BTreeMap::new(), module)?;
        let route = |planned: &job::routes::PlannedRoute| {
            let route = planned.route.kind.into();
            let RouteHistory { successes, failures, .. } = self.route_history(route, "")?;
            let setting = settings.of(route);
            let numbers = show::route_numbers(planned, setting)?;
            Ok::<_, ApiError>(RouteSettingView {
                route,
                available: !setting.unavailable,
                provider: setting.provider.clone(),
                // What a lost module costs is set once, for all routes.
                numbers: numbers.into_iter().filter(|number| number.name != "loss").collect(),
                successes,
                failures,
            })
        };
        Ok(ProgrammingSettingsView {
            routes: planned.iter().map(route).collect::<Result<_, _>>()?,
            numbers: self.common_numbers(&settings)?,
        })
    }

    fn common_numbers(&self, settings: &ProgrammingSettings) -> Result<Vec<NumberView>, ApiError> {
        let module = self.usual_module_price()?;
        let judged = ModulePrice::ASSUMED;
        let minutes = settings.hook_up_minutes;
        let hook_up = number_view(
            "hook_up_minutes",
            "minutes",
            (settings.hook_up_minutes().to_string(), HOOK_UP_MINUTES.to_string()),
            source(minutes.as_ref()),
            minutes.map(|minutes| minutes.to_string()),
        );
        Ok(vec![amount_view("module", module, judged, settings.module), hook_up])
    }

    /// Sets one of them as it was typed.
    ///
    /// # Errors
    /// A place that isn't known; what can't be read, is below zero or out of range.
    pub fn programming_setting_keep(
        &self,
        entry: &SettingEntry,
    ) -> Result<ProgrammingSettingsView, ApiError> {
        let mut settings = self.programming_settings_kept()?;
        typed::named(&entry.place, set(&mut settings, entry, self.marks()))?;
        self.store.set_setting(SETTING, &settings::written(SETTING, &settings)?)?;
        self.programming_settings()
    }

    pub(crate) fn programming_settings_kept(&self) -> Result<ProgrammingSettings, ApiError> {
        let kept = self.store.setting(SETTING)?;
        kept.map_or_else(|| Ok(ProgrammingSettings::default()), |value| settings::read(SETTING, value))
    }
}

fn set(
    settings: &mut ProgrammingSettings,
    entry: &SettingEntry,
    home: Option<Marks>,
) -> Result<(), ApiError> {
    let unknown = || ApiError::Unknown { what: "setting", value: entry.place.clone() };
    if entry.place == "module" {
        let typed = entry.typed.trim();
        settings.module = if typed.is_empty() { None } else { Some(typed::price(typed, home)?) };
        return Ok(());
    }
    if entry.place == "hook_up_minutes" {
        return Ok(settings.set_hook_up(&entry.typed)?);
    }
    let (route, name) = entry.place.split_once('/').ok_or_else(unknown)?;
    let route: ProgrammingRoute =
        ROUTES.into_iter().find(|known| job::code(known) == route).ok_or_else(unknown)?;
    let setting = settings.of_mut(route);
    match name {
        "available" => {
            setting.unavailable = typed::one_of("available", &entry.typed, &["yes", "no"])? == "no";
            Ok(())
        }
        "provider" => {
            setting.provider = typed::text("provider", &entry.typed)?;
            Ok(())
        }
        name => Ok(setting.set(name, &entry.typed, home).ok_or_else(unknown)??),
    }
}
