//! Shared set-up of the checks against outside references.

pub mod local_authority;
pub mod papers;
pub mod venv;
