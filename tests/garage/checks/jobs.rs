//! What is drawn and written down.

use super::*;

#[test]
fn every_sort_can_be_drawn_and_shows_its_complaint() {
    let circuits = library();
    for sort in Sort::all() {
        let mut found = 0;
        for seed in 0..60_u64 {
            let circuit = &circuits[usize::try_from(seed).unwrap() % circuits.len()];
            let Some(mut job) = Job::draw(circuit, Mix::Only(sort), seed).unwrap() else { continue };
            assert_eq!(job.sort, sort);
            let complaint = truth::complaint_test(circuit).unwrap().clone();
            let answer = if circuit.complaint.answer { ObservedValue::Yes } else { ObservedValue::No };
            assert_eq!(job.truly(&complaint).unwrap(), answer, "{}: {}", circuit.id, job.note);
            found += 1;
            if found == 3 {
                break;
            }
        }
        assert!(found > 0, "{sort:?} never comes");
    }
}

#[test]
fn causes_are_those_of_the_file_and_bad_modules_are_where_they_were_asked_for() {
    let mut bad = 0;
    for (index, circuit) in library().iter().enumerate() {
        let listed: BTreeSet<String> = circuit
            .components
            .iter()
            .flat_map(|part| part.faults.iter().map(|one| super::super::hidden::cause(&part.id, one.mode)))
            .collect();
        for seed in 0..25 {
            for mix in [Mix::Shop, Mix::InModule] {
                let Some(job) = Job::draw(circuit, mix, seed).unwrap() else { continue };
                assert_eq!(job.circuit, index);
                assert!(job.causes.iter().all(|cause| listed.contains(cause)), "{:?}", job.causes);
                if mix == Mix::InModule {
                    assert!(job.in_module, "{}: {}", circuit.id, job.note);
                    bad += 1;
                }
                if job.sort == Sort::ModuleRefuses || job.sort == Sort::OtherSystem {
                    assert!(!job.in_module, "{}", job.note);
                }
            }
        }
    }
    assert!(bad > 100, "{bad}");
}

#[test]
fn the_same_seed_gives_the_same_job_and_the_same_readings() {
    for circuit in library() {
        let written = |seed: u64| {
            let job = Job::draw(&circuit, Mix::Shop, seed).unwrap();
            job.map(|mut job| {
                let taken: Vec<_> = circuit.tests.iter().map(|test| job.take(test).unwrap()).collect();
                (job.note.clone(), taken)
            })
        };
        for seed in [3, 4] {
            assert_eq!(written(seed), written(seed), "{}", circuit.id);
        }
        assert!((5..30).any(|seed| written(seed) != written(seed + 1)), "{}", circuit.id);
    }
}

#[test]
fn readings_lie_near_the_truth_but_for_slips() {
    let mut apart: BTreeMap<&str, u32> = BTreeMap::new();
    let mut taken = 0;
    for (place, circuit) in library().iter().enumerate() {
        for seed in 0..6 {
            let seed = seed * 100 + u64::try_from(place).unwrap();
            let Some(mut job) = Job::draw(circuit, Mix::Only(Sort::FileFault), seed).unwrap() else {
                continue;
            };
            for test in circuit.tests.iter().filter(|test| test.mode == circuit::MeasureMode::VoltsDc) {
                let truly = job.truly(test).unwrap();
                let written = job.take(test).unwrap().0;
                let (ObservedValue::Number(truly), ObservedValue::Number(written)) = (truly, written) else {
                    panic!("volts are numbers")
                };
                taken += 1;
                // Half a percent of the manual, its counts, the vehicle's unrest, and a meter that loads otherwise.
                if (truly - written).abs() > 0.03 + 0.02 * truly.abs() {
                    *apart.entry("volts").or_default() += 1;
                }
            }
        }
    }
    let slips = f64::from(*apart.get("volts").unwrap_or(&0)) / f64::from(taken);
    assert!(taken > 300 && (0.001..0.04).contains(&slips), "{slips} of {taken}");
}

#[test]
fn unplugging_cures_what_it_cures() {
    let circuit = find("fuel_pump");
    let unplugs = circuit.tests.iter().find(|test| test.id == "module_connector_look").unwrap();
    let complaint = truth::complaint_test(&circuit).unwrap();
    let mut cured = 0;
    for seed in 0..12 {
        let Some(mut job) = Job::draw(&circuit, Mix::Only(Sort::ReseatingCures), seed).unwrap() else {
            continue;
        };
        for _ in 0..6 {
            job.take(unplugs).unwrap();
        }
        cured += u32::from(job.truly(complaint).unwrap() == ObservedValue::Yes);
    }
    assert!(cured >= 4, "{cured}");
}

#[test]
fn a_truth_shows_the_same_as_itself_and_not_as_another() {
    let circuit = find("blower");
    let (mut own, mut other) = (0, 0);
    for seed in 0..8 {
        let Some(job) = Job::draw(&circuit, Mix::Only(Sort::FileFault), seed).unwrap() else { continue };
        own += u32::from(job.shows_the_same(&job.causes[0]).unwrap());
        let stranger = if job.causes[0] == "step_2/open" { "contact_low/stuck_open" } else { "step_2/open" };
        other += u32::from(!job.shows_the_same(stranger).unwrap());
    }
    assert!(own >= 6 && other >= 6, "{own} {other}");
}
