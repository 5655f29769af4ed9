//! The day of programming: its appointment, what is made sure of, the supply meanwhile. Provider and amounts are invented.

use crate::programming::{attempt, decision, set};
use crate::shop::*;
use api::entry::*;

/// PyPI `icalendar` (RFC 5545) reads the file back: the moment, that it has a zone, and the alarm.
#[test]
fn an_appointment_is_read_back_from_its_calendar_file() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    assert_eq!(Shop::code(work.appointment_export(&job)), "no_appointment");
    let entry =
        IntakeEntry { make: Some("Ulvane; A,B\\C".into()), year: Some("2022".into()), ..Default::default() };
    work.intake_keep(&job, &entry).unwrap();
    for (typed, kept) in [
        ("2026-10-19T10:30", "2026-10-19T10:30:00-05:00"),
        ("2026-12-24T23:45:00+05:30", "2026-12-24T23:45:00+05:30"),
    ] {
        let decided = ProgrammingEntry {
            appointment: typed.into(),
            ..decision(ProgrammingRoute::RemoteService, "145")
        };
        let view = work.programming_decide(&job, &decided).unwrap();
        assert_eq!(view.programming.decision.unwrap().appointment, kept);
        set(&shop, "hook_up_minutes", "45");
        let path = work.appointment_export(&job).unwrap();
        let program = "import sys, icalendar, datetime\n\
            calendar = icalendar.Calendar.from_ical(open(sys.argv[1], 'rb').read())\n\
            [event] = calendar.walk('VEVENT')\n\
            start, [alarm] = event['DTSTART'].dt, event.walk('VALARM')\n\
            assert start.tzinfo is not None, 'no zone'\n\
            wall = datetime.datetime.fromisoformat(sys.argv[2])\n\
            assert start.replace(tzinfo=None) == wall.replace(tzinfo=None), start\n\
            assert start.utcoffset() == wall.utcoffset(), start\n\
            [zone] = calendar.walk('VTIMEZONE')\n\
            assert event['DTSTART'].params['TZID'] == zone['TZID']\n\
            assert (event['DTEND'].dt - start) == datetime.timedelta(hours=1)\n\
            assert start == datetime.datetime.fromisoformat(sys.argv[2]), start\n\
            assert alarm['TRIGGER'].dt == datetime.timedelta(minutes=-45), alarm['TRIGGER'].dt\n\
            assert alarm['ACTION'] == 'DISPLAY' and '45' in alarm['DESCRIPTION']\n\
            assert 'Lumen Remote' in event['DESCRIPTION'], event['DESCRIPTION']\n\
            assert 'Ulvane; A,B\\\\C' in event['SUMMARY'], event['SUMMARY']\n\
            assert event['DTSTAMP'].dt and event['UID']\n";
        let run = std::process::Command::new(testimeter_checks::venv::python())
            .args(["-c", program, &path, kept])
            .output()
            .unwrap();
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    }
    for bad in ["99/99/2099", "2026-02-30T10:00", "soon", "🙂", "2026-10-19T25:00:00Z", "-1"] {
        let decided =
            ProgrammingEntry { appointment: bad.into(), ..decision(ProgrammingRoute::RemoteService, "145") };
        let error = api::ErrorView::from(work.programming_decide(&job, &decided).unwrap_err());
        assert_eq!(
            (error.code.as_str(), error.values["field"].as_str()),
            ("not_a_time", "appointment"),
            "{bad}"
        );
    }
}

#[test]
fn an_appointment_that_is_near_is_a_notice_until_its_result_is_on_record() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    let decided = ProgrammingEntry {
        appointment: "2026-10-19T10:30".into(),
        ..decision(ProgrammingRoute::RemoteService, "145")
    };
    work.programming_decide(&job, &decided).unwrap();
    let first =
        || work.notices_view().unwrap().into_iter().filter(|one| one.code == "appointment_near").count();
    let here =
        || work.job_view(&job).unwrap().notices.iter().filter(|one| one.code == "appointment_near").count();
    assert_eq!((first(), here()), (0, 0), "a week before it nobody is disturbed");
    shop.at("2026-10-18T11:00:00-05:00");
    assert_eq!((first(), here()), (1, 1));
    let notice = work.notices_view().unwrap().remove(0);
    assert_eq!((notice.found.as_str(), notice.job.as_str()), ("2026-10-19T10:30:00-05:00", job.as_str()));
    work.notice_acknowledge(&notice.id).unwrap();
    assert_eq!((first(), here()), (0, 1), "acknowledged, it stays on its job");
    work.programming_report(&job, &attempt(ProgrammingOutcome::Failed, "145")).unwrap();
    assert_eq!((first(), here()), (0, 0));
}

#[test]
fn checks_and_a_voltage_log_are_kept_with_the_attempt() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    work.programming_decide(&job, &decision(ProgrammingRoute::OwnTool, "40")).unwrap();
    let logged = |voltages: &str, lowest: &str, highest: &str| ProgrammedEntry {
        checks: vec![of_code("maintainer_on"), of_code("network_holds")],
        voltages: voltages.into(),
        window_lowest: lowest.into(),
        window_highest: highest.into(),
        ..attempt(ProgrammingOutcome::Failed, "40")
    };
    let view =
        work.programming_report(&job, &logged("0 13,6\n\n 5\t12.4 V\n5;11.9\n", "12.5", "14,8")).unwrap();
    let kept = &view.programming.attempts[0];
    let voltages: Vec<(f64, f64)> = kept.voltages.iter().map(|at| (at.minute, at.volts)).collect();
    assert_eq!(voltages, [(0.0, 13.6), (5.0, 12.4), (5.0, 11.9)]);
    assert_eq!(
        (kept.window.as_slice(), kept.below_window, kept.checks.len()),
        ([12.5, 14.8].as_slice(), 2, 2)
    );
    assert_eq!(view.programming.lost_session.len(), 6, "what to do after a session that failed");
    let many: String = (0..201).map(|minute| format!("{minute} 13\n")).collect();
    for (entry, code) in [
        (logged("0 13.6\nhello", "", ""), "voltage_line"),
        (logged("0 13.6 V now", "", ""), "voltage_line"),
        (logged("0 NaN", "", ""), "voltage_line"),
        (logged("-1 13", "", ""), "voltage_line"),
        (logged("0 🙂", "", ""), "voltage_line"),
        (logged("0 1e9", "", ""), "voltage_line"),
        (logged("0 61", "", ""), "value_refused"),
        (logged("1000000 13", "", ""), "value_refused"),
        (logged("20000 13", "", ""), "value_refused"),
        (logged("5 13\n4 13", "", ""), "value_refused"),
        (logged(&many, "", ""), "value_refused"),
        (logged("", "12.5", ""), "field_empty"),
        (logged("", "abc", "14"), "not_a_number"),
        (logged("", "14", "12"), "value_refused"),
        (logged("", "-1", "12"), "not_a_number"),
    ] {
        assert_eq!(Shop::code(work.programming_report(&job, &entry)), code, "{entry:?}");
    }
    let done = work.programming_report(&job, &attempt(ProgrammingOutcome::Succeeded, "40")).unwrap();
    assert!(done.programming.lost_session.is_empty());
}
