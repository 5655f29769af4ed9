//! The few words of a drawing, and the names of parts in the language of the shop.

use circuit::{Circuit, Text, label_lines};

use crate::graph::Graph;
use crate::text::shorten;

/// Language of a drawing's names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

/// Names in one language.
#[derive(Clone, Copy)]
pub(crate) struct Speech<'c> {
    circuit: &'c Circuit,
    graph: &'c Graph,
    pub language: Language,
}

impl<'c> Speech<'c> {
    pub const fn new(circuit: &'c Circuit, graph: &'c Graph, language: Language) -> Self {
        Self { circuit, graph, language }
    }

    pub fn say(&self, text: &'c Text) -> &'c str {
        self.either(&text.en, &text.es)
    }

    pub const fn either<'t>(&self, english: &'t str, spanish: &'t str) -> &'t str {
        match self.language {
            Language::English => english,
            Language::Spanish => spanish,
        }
    }

    /// Short name of a part, one or two lines: its label, else what its name comes to.
    pub fn part(&self, part: usize) -> Vec<String> {
        let part = self.circuit.components.get(part);
        part.map(|part| self.short(part.label.as_ref(), &part.name)).unwrap_or_default()
    }

    fn short(&self, label: Option<&'c Text>, name: &'c Text) -> Vec<String> {
        label.map_or_else(|| shorten(self.say(name)), |label| label_lines(self.say(label)))
    }

    /// Whole name of a part.
    pub fn whole_part(&self, part: usize) -> String {
        self.circuit.components.get(part).map(|part| self.say(&part.name).to_owned()).unwrap_or_default()
    }

    pub fn whole_point(&self, point: usize) -> String {
        self.circuit.points.get(point).map(|point| self.say(&point.name).to_owned()).unwrap_or_default()
    }

    /// Name of a box.
    pub fn frame(&self, frame: usize) -> Vec<String> {
        let spec = &self.graph.frames.all[frame];
        let module = self.circuit.modules.iter().find(|module| module.id == spec.id);
        if let Some(module) = module {
            return self.short(module.label.as_ref(), &module.name);
        }
        self.graph.net.part_of.get(&spec.id).map(|part| self.part(*part)).unwrap_or_default()
    }

    pub fn plus(&self) -> &'static str {
        match self.language {
            Language::English => "Battery +",
            Language::Spanish => "Batería +",
        }
    }

    pub fn minus(&self) -> &'static str {
        match self.language {
            Language::English => "Battery −",
            Language::Spanish => "Batería −",
        }
    }

    pub fn good(&self, many: usize) -> String {
        match self.language {
            Language::English => format!("{many} good"),
            Language::Spanish => format!("{many} bien"),
        }
    }

    pub fn red(&self) -> &'static str {
        match self.language {
            Language::English => "RED",
            Language::Spanish => "ROJA",
        }
    }

    pub fn black(&self) -> &'static str {
        match self.language {
            Language::English => "BLACK",
            Language::Spanish => "NEGRA",
        }
    }

    /// A reading against the positive post.
    pub fn against_plus(&self, number: &str) -> String {
        match self.language {
            Language::English => format!("{number} to +"),
            Language::Spanish => format!("{number} a +"),
        }
    }
}
