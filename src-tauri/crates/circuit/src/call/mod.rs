pub(crate) mod case;
pub(crate) mod doubt;
pub(crate) mod engine;
pub(crate) mod gate;
