pub(crate) mod cause;
pub(crate) mod curve;
pub(crate) mod model;
pub(crate) mod modules;
pub(crate) mod reading;
pub(crate) mod sweep;
