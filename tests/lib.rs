//! Shared set-up of the checks against outside references.

pub mod venv;
