//! Tests at entered modules: connectors, what the scan tool sees, and of each that can be the cause its output past the
//! terminal and what hangs on it alone. Of a bus the ohms between its wires.

use crate::entered::evidence::{Source, Suspect, inspection, scan_id};
use crate::entered::making::{Making, volts_id};
use crate::entered::module::{asked, awake, needs};
use crate::entered::module_entry::Drives;
use crate::entered::modules::{Built, Can, Output, Pin};
use crate::entered::phrases::text;
use crate::entered::procedures::{battery, question, reading};
use crate::file::layout::Circuit;
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Required, Requirement, Test};
use crate::file::text::Text;

pub(super) fn all(making: &Making<'_>, suspects: &[Suspect<'_, '_>], circuit: &Circuit) -> Vec<Test> {
    let site = Site { making, circuit };
    let mut tests = Vec::new();
    for (number, module) in making.modules.iter().enumerate() {
        let own = || suspects.iter().filter(|suspect| suspect.module.id == module.id);
        if own().next().is_some() {
            tests.push(site.connector(module));
        }
        for suspect in own() {
            tests.extend(site.of(suspect));
        }
        tests.extend(site.requests(module, own().map(|suspect| suspect.source)));
        if making.talker == Some(number)
            && let Some(can) = &module.can
        {
            tests.extend(site.bus(module, can));
        }
    }
    tests
}

struct Site<'s, 'e> {
    making: &'s Making<'e>,
    circuit: &'s Circuit,
}

fn careful() -> Vec<String> {
    vec!["battery".to_owned(), "module_handling".to_owned()]
}

fn set(mut state: State, pairs: &[(&str, &str)]) -> State {
    state.extend(pairs.iter().map(|(variable, value)| ((*variable).to_owned(), (*value).to_owned())));
    state
}

impl Site<'_, '_> {
    fn point(&self, pin: &Pin<'_>) -> String {
        self.making.ids.point(pin.point)
    }

    /// What a test of a module is called: the only one needs no name.
    fn titled(&self, module: &Built<'_>, en: &str, es: &str) -> Text {
        if self.making.modules.len() == 1 {
            return text(en, es);
        }
        text(format!("{}: {en}", module.name), format!("{}: {es}", module.name))
    }

    fn connector(&self, module: &Built<'_>) -> Test {
        let name = self.titled(
            module,
            "Module connector opened: corrosion, bent pins, loose terminals (grip tested)?",
            "Conector del módulo abierto: ¿corrosión, pines doblados, terminales flojos (agarre probado)?",
        );
        let unplugged = set(State::new(), &[(&module.id, "unplugged")]);
        let look = Test::blank(inspection(module), name, MeasureMode::Look, unplugged, 10.0);
        let terminals = module.pins().into_iter().map(|pin| module.terminal(pin)).collect();
        let look = Test { cautions: careful(), ..look };
        question(look, Behavior::DamageSeen { components: terminals }, 0.05, 0.03)
    }

    /// What the module sees of each request that matters.
    fn requests<'m>(&self, module: &Built<'_>, sources: impl Iterator<Item = Source<'m, 'm>>) -> Vec<Test>
    where
        Self: 'm,
    {
        let mut tests: Vec<Test> = Vec::new();
        let mut scan = |id: String, words: Text, needs| {
            if tests.iter().all(|test| test.id != id) {
                let test = Test::blank(id, words, MeasureMode::YesNo, self.making.asked(), 3.0);
                tests.push(question(test, Behavior::ModuleSees { needs }, 0.03, 0.03));
            }
        };
        for source in sources {
            let Source::Output(output) = source else { continue };
            if output.asked_by.is_empty() {
                let words = self.titled(
                    module,
                    "Scan tool: does the module see the request?",
                    "Escáner: ¿ve el módulo la petición?",
                );
                scan(scan_id(module, &output.pin.key), words, needs(module, output));
            }
            for input in output.asked_by.iter().filter_map(|i| module.inputs.get(*i)) {
                let point = input.pin.point.trim();
                let (en, es) = if module.inputs.len() == 1 {
                    (
                        "Scan tool: does the module see the request?".to_owned(),
                        "Escáner: ¿ve el módulo la petición?".to_owned(),
                    )
                } else {
                    (
                        format!("Scan tool: does the module see the request at {point}?"),
                        format!("Escáner: ¿ve el módulo la petición en {point}?"),
                    )
                };
                let seen = [awake(module)].into_iter().chain(asked(module, input)).collect();
                scan(scan_id(module, &input.pin.key), self.titled(module, &en, &es), seen);
            }
        }
        tests
    }

    fn of(&self, suspect: &Suspect<'_, '_>) -> Vec<Test> {
        let module = suspect.module;
        match suspect.source {
            Source::Output(output) => self.output(suspect, output),
            Source::Reference(pin) => self.reference(suspect, pin),
            Source::Talker => module.can.as_ref().map(|can| self.talker(suspect, can)).unwrap_or_default(),
            Source::Terminator => {
                module.can.as_ref().map(|can| self.terminator(suspect, can)).unwrap_or_default()
            }
        }
    }

    /// Through test leads in place of the terminals: feed and ground are seen good before.
    fn past(&self, module: &Built<'_>, test: Test) -> Test {
        let good = |pin: &Pin<'_>| Requirement {
            test: volts_id(self.making, &self.point(pin)),
            result: Required::Good,
        };
        let state = set(test.state.clone(), &[(&module.id, "breakout")]);
        let requires = vec![good(&module.feed), good(&module.ground)];
        Test { state, minutes: 12.0, cautions: careful(), requires, ..test }
    }

    fn output(&self, suspect: &Suspect<'_, '_>, output: &Output<'_>) -> Vec<Test> {
        let (module, names) = (suspect.module, suspect.tests());
        let (point, reference) = (self.point(&output.pin), &self.circuit.reference);
        let which =
            if module.outputs.len() == 1 { String::new() } else { format!(" {}", output.pin.point.trim()) };
        let name = self.titled(
            module,
            &format!("Module output{which} through test leads that bypass the terminals"),
            &format!("Salida{which} del módulo con cables de prueba que puentean los terminales"),
        );
        let bypass = Test::blank(names.bypass, name, MeasureMode::VoltsDc, self.making.asked(), 12.0);
        let mut tests =
            vec![self.past(module, reading(bypass, &point, reference)), self.harness(suspect, output)];
        if output.duty_percent.is_some() {
            let name = self.titled(
                module,
                &format!("Duty at module output{which}, everything asked for"),
                &format!("Ciclo de trabajo en la salida{which} del módulo, todo pedido"),
            );
            let duty = Test::blank(names.duty, name, MeasureMode::Duty, self.making.asked(), 4.0);
            tests.push(reading(duty, &point, reference));
        }
        tests
    }

    /// What hangs on the module's output, alone: a path beside the load would make a good output fail.
    fn harness(&self, suspect: &Suspect<'_, '_>, output: &Output<'_>) -> Test {
        let module = suspect.module;
        let alone = set(self.making.asked(), &[(&module.id, "unplugged"), ("battery", "disconnected")]);
        let positive = battery(self.making).map(|part| self.making.ids.point(&part.from)).unwrap_or_default();
        let (far, en, es) = match output.drives {
            Drives::Feed => (self.circuit.reference.clone(), "negative", "negativo"),
            Drives::Ground => (positive, "positive", "positivo"),
        };
        let which =
            if module.outputs.len() == 1 { String::new() } else { format!(" {}", output.pin.point.trim()) };
        let name = self.titled(
            module,
            &format!("Module unplugged, battery disconnected: output pin{which} to the battery's {en} clamp"),
            &format!(
                "Módulo desenchufado, batería desconectada: pin de salida{which} al borne {es} de la batería"
            ),
        );
        let test = Test::blank(suspect.tests().harness, name, MeasureMode::Ohms, alone, 6.0);
        Test { cautions: careful(), ..reading(test, &self.point(&output.pin), &far) }
    }

    /// 5 V past its terminal, and what hangs on it without the module: the sensors, and no way to ground.
    fn reference(&self, suspect: &Suspect<'_, '_>, pin: &Pin<'_>) -> Vec<Test> {
        let (module, names) = (suspect.module, suspect.tests());
        let (point, reference) = (self.point(pin), &self.circuit.reference);
        let name = self.titled(
            module,
            "5 V for sensors through test leads that bypass the terminals",
            "5 V de sensores con cables de prueba que puentean los terminales",
        );
        let bypass = Test::blank(names.bypass, name, MeasureMode::VoltsDc, self.making.asked(), 12.0);
        let alone = set(State::new(), &[(&module.id, "unplugged"), ("battery", "disconnected")]);
        let black = module.sensor_grounds.first().map(|ground| self.point(ground));
        let black = black.unwrap_or_else(|| reference.clone());
        let name = self.titled(
            module,
            "Module unplugged, battery disconnected: 5 V pin to the sensors' ground",
            "Módulo desenchufado, batería desconectada: pin de 5 V a la masa de los sensores",
        );
        let harness = Test::blank(names.harness, name, MeasureMode::Ohms, alone.clone(), 5.0);
        let harness = Test { cautions: careful(), ..reading(harness, &point, &black) };
        let mut tests = vec![self.past(module, reading(bypass, &point, reference)), harness];
        let name = self.titled(
            module,
            "Module unplugged, battery disconnected: 5 V pin to the battery's negative clamp",
            "Módulo desenchufado, batería desconectada: pin de 5 V al borne negativo de la batería",
        );
        let ground = Test::blank(names.to_ground, name, MeasureMode::Ohms, alone, 5.0);
        tests.push(Test { cautions: careful(), ..reading(ground, &point, reference) });
        tests
    }

    /// Volts between the wires at the one who talks, past its terminals, and the wires without it.
    fn talker(&self, suspect: &Suspect<'_, '_>, can: &Can<'_>) -> Vec<Test> {
        let (module, names) = (suspect.module, suspect.tests());
        let (high, low) = (self.point(&can.high), self.point(&can.low));
        let name = self.titled(
            module,
            "Between CAN high and CAN low at its connector, key on",
            "Entre CAN alto y CAN bajo en su conector, contacto dado",
        );
        let pair = Test::blank(names.loaded, name, MeasureMode::VoltsDc, self.making.asked(), 5.0);
        let pair = reading(pair, &high, &low);
        let name = self.titled(
            module,
            "Between CAN high and CAN low through test leads that bypass the terminals",
            "Entre CAN alto y CAN bajo con cables de prueba que puentean los terminales",
        );
        let past = self.past(module, Test { id: names.bypass, name, ..pair.clone() });
        let name = self.titled(
            module,
            "CAN high at its open connector against battery negative, key on",
            "CAN alto en su conector abierto contra el negativo, contacto dado",
        );
        let open = set(self.making.asked(), &[(&module.id, "unplugged")]);
        let alone = Test::blank(names.harness, name, MeasureMode::VoltsDc, open, 5.0);
        let alone = Test { cautions: careful(), ..reading(alone, &high, &self.circuit.reference) };
        let name = self.titled(
            module,
            "CAN high at its open connector to battery negative, battery disconnected",
            "CAN alto en su conector abierto al negativo, batería desconectada",
        );
        let dead = set(State::new(), &[(&module.id, "unplugged"), ("battery", "disconnected")]);
        let ground = Test::blank(names.to_ground, name, MeasureMode::Ohms, dead, 5.0);
        let ground = Test { cautions: careful(), ..reading(ground, &high, &self.circuit.reference) };
        vec![pair, past, alone, ground]
    }

    /// Every module on the bus but this one is unplugged.
    fn without_others(&self, module: &Built<'_>) -> State {
        let others = self.making.modules.iter().filter(|one| one.can.is_some() && one.id != module.id);
        let mut alone = set(State::new(), &[("battery", "disconnected")]);
        alone.extend(others.map(|one| (one.id.clone(), "unplugged".to_owned())));
        alone
    }

    /// The terminator of one who listens.
    fn terminator(&self, suspect: &Suspect<'_, '_>, can: &Can<'_>) -> Vec<Test> {
        let (module, names) = (suspect.module, suspect.tests());
        let (high, low) = (self.point(&can.high), self.point(&can.low));
        let ohms = |id: String, en: &str, es: &str, state: State, minutes| {
            let test = Test::blank(id, self.titled(module, en, es), MeasureMode::Ohms, state, minutes);
            Test { cautions: careful(), ..reading(test, &high, &low) }
        };
        let own = ohms(
            names.loaded,
            "Between CAN high and low at its connector, the other modules unplugged, battery disconnected",
            "Entre CAN alto y bajo en su conector, los otros módulos desenchufados, batería desconectada",
            self.without_others(module),
            8.0,
        );
        let past = ohms(
            names.bypass,
            "The same through test leads that bypass its terminals",
            "Lo mismo con cables de prueba que puentean sus terminales",
            self.without_others(module),
            12.0,
        );
        let past = Test { requires: Vec::new(), ..self.past(module, past) };
        let without = set(State::new(), &[("battery", "disconnected"), (&module.id, "unplugged")]);
        let harness = ohms(
            names.harness,
            "Between CAN high and low at its open connector, battery disconnected",
            "Entre CAN alto y bajo en su conector abierto, batería desconectada",
            without,
            6.0,
        );
        vec![own, past, harness]
    }

    /// Ohms of the whole bus, without each of its modules, and of each wire to ground.
    fn bus(&self, module: &Built<'_>, can: &Can<'_>) -> Vec<Test> {
        let (high, low) = (self.point(&can.high), self.point(&can.low));
        let dead = |pairs: &[(&str, &str)]| set(set(State::new(), &[("battery", "disconnected")]), pairs);
        let ohms = |id: String, name: Text, red: &str, black: &str, state: State| {
            let test = Test::blank(id, name, MeasureMode::Ohms, state, 4.0);
            Test { cautions: vec!["battery".to_owned()], ..reading(test, red, black) }
        };
        let name = text(
            format!("Between CAN high and low at {}, battery disconnected", module.name),
            format!("Entre CAN alto y bajo en {}, batería desconectada", module.name),
        );
        let mut tests = vec![ohms("can_ohms".to_owned(), name, &high, &low, dead(&[]))];
        for other in self.making.modules.iter().filter(|one| one.can.is_some()) {
            let name = text(
                format!(
                    "Between CAN high and low at {}, {} unplugged, battery disconnected",
                    module.name, other.name
                ),
                format!(
                    "Entre CAN alto y bajo en {}, {} desenchufado, batería desconectada",
                    module.name, other.name
                ),
            );
            let state = dead(&[(&other.id, "unplugged")]);
            tests.push(ohms(format!("can_ohms_without_{}", other.id), name, &high, &low, state));
        }
        for (id, point, en, es) in [("high", &high, "high", "alto"), ("low", &low, "low", "bajo")] {
            let name = text(
                format!("CAN {en} at {} to battery negative, battery disconnected", module.name),
                format!("CAN {es} en {} al negativo, batería desconectada", module.name),
            );
            let id = format!("can_{id}_to_ground");
            tests.push(ohms(id, name, point, &self.circuit.reference, dead(&[])));
        }
        tests
    }
}
