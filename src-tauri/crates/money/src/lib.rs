//! money
