pub(crate) mod forecast;
pub(crate) mod next_test;
pub(crate) mod offer;
pub(crate) mod overturn;
pub(crate) mod rollout;
pub(crate) mod separable;
pub(crate) mod test_or_buy;
