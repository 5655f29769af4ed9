//! What goes in beside the readings, and everything that comes out.

pub(crate) mod cause_share;
pub(crate) mod diagnosis;
pub(crate) mod doubt;
pub(crate) mod frozen;
pub(crate) mod ground;
pub(crate) mod next_test;
pub(crate) mod options;
pub(crate) mod overturn;
pub(crate) mod pin_out;
pub(crate) mod test_or_buy;
pub(crate) mod verdict;
