pub(crate) mod diagnosis;
pub(crate) mod frozen;
