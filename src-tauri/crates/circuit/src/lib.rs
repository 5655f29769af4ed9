//! circuit
