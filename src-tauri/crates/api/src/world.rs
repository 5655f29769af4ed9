//! The world that is passed in: time and chance. Tests and the demo set the time.

use chrono::{DateTime, FixedOffset, Local, NaiveDateTime, Offset, SecondsFormat, TimeZone};
use evidence::Moment;
use std::time::Duration;

/// Tells the time of a record.
pub trait Clock: Send + Sync {
    /// Wall time with offset, elapsed time including sleep, and the boot it belongs to.
    fn moment(&self) -> Moment;

    /// The offset of a local day and time to come; nothing for one that the clocks jump over. Unless the device knows
    /// better, it is the offset of now.
    fn offset_at(&self, local: NaiveDateTime) -> Option<FixedOffset> {
        let _ = local;
        DateTime::parse_from_rfc3339(&self.moment().wall).ok().map(|now| *now.offset())
    }
}

/// The device's own clocks.
#[derive(Clone, Copy, Debug, Default)]
pub struct DeviceClock;

impl Clock for DeviceClock {
    fn moment(&self) -> Moment {
        let elapsed = elapsed_including_sleep();
        Moment {
            wall: Local::now().to_rfc3339_opts(SecondsFormat::Millis, false),
            elapsed_ms: u64::try_from(elapsed.as_millis()).unwrap_or(u64::MAX),
            boot: boot_id(),
        }
    }

    /// Of the two moments that an hour names twice, the earlier one.
    fn offset_at(&self, local: NaiveDateTime) -> Option<FixedOffset> {
        Local.from_local_datetime(&local).earliest().map(|at| at.offset().fix())
    }
}

/// `CLOCK_BOOTTIME` counts while the device sleeps.
#[cfg(any(target_os = "linux", target_os = "android"))]
fn elapsed_including_sleep() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::Boottime);
    Duration::new(u64::try_from(time.tv_sec).unwrap_or(0), u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// On Apple `CLOCK_MONOTONIC` goes on while the device sleeps.
#[cfg(not(any(target_os = "linux", target_os = "android")))]
fn elapsed_including_sleep() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::Monotonic);
    Duration::new(u64::try_from(time.tv_sec).unwrap_or(0), u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// The kernel's id of this boot; where it can't be read, the time of the boot to the minute stands in for it.
fn boot_id() -> String {
    let kernel = std::fs::read_to_string("/proc/sys/kernel/random/boot_id");
    if let Some(id) = kernel.ok().map(|id| id.trim().to_owned()).filter(|id| !id.is_empty()) {
        return id;
    }
    let up = i64::try_from(elapsed_including_sleep().as_secs()).unwrap_or(0);
    format!("boot-{}", Local::now().timestamp().saturating_sub(up) / 60)
}

/// A clock that is set by hand: for tests and for playing jobs with their own times. Elapsed time follows the wall.
#[derive(Debug)]
pub struct SetClock {
    now: std::sync::Mutex<DateTime<FixedOffset>>,
    start: DateTime<FixedOffset>,
}

impl SetClock {
    /// A clock that shows `start`.
    pub fn at(start: DateTime<FixedOffset>) -> SetClock {
        SetClock { now: std::sync::Mutex::new(start), start }
    }

    /// Sets the time shown.
    pub fn set(&self, now: DateTime<FixedOffset>) {
        *self.now.lock().unwrap_or_else(std::sync::PoisonError::into_inner) = now;
    }
}

impl Clock for SetClock {
    fn moment(&self) -> Moment {
        let now = *self.now.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let elapsed = now.signed_duration_since(self.start).num_milliseconds();
        Moment {
            wall: now.to_rfc3339_opts(SecondsFormat::Millis, false),
            elapsed_ms: u64::try_from(elapsed).unwrap_or(0).saturating_add(3_600_000),
            boot: "set-by-hand".to_owned(),
        }
    }
}
