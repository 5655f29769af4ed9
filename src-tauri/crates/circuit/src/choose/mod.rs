//! Which test is worth doing next, and which may be offered at all.

pub(crate) mod forecast;
pub(crate) mod next_test;
pub(crate) mod offer;
pub(crate) mod overturn;
pub(crate) mod particles;
pub(crate) mod rollout;
pub(crate) mod separable;
pub(crate) mod test_or_buy;
