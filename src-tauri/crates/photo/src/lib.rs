//! photo
