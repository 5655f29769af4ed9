//! Wire sizes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Size of a wire as the diagram gives it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WireSize {
    /// Cross-section, mm².
    Mm2(f64),
    /// AWG number; 0 is 1/0, −1 is 2/0 and so on.
    Awg(i32),
}

impl WireSize {
    /// Cross-section, mm². AWG: diameter 0.127 mm · 92^((36 − n)/39) (ASTM B258).
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        match self {
            Self::Mm2(area) => area,
            Self::Awg(number) => {
                let diameter = 0.127 * 92_f64.powf(f64::from(36 - number) / 39.0);
                std::f64::consts::FRAC_PI_4 * diameter * diameter
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ASTM B258: AWG 36 is 5 mil, AWG 0000 is 460 mil (the law's two fixed points); 18 AWG is 0.823 mm² (computed).
    #[test]
    fn awg_follows_its_law() {
        assert!((WireSize::Awg(36).area_mm2() - 0.012_668).abs() < 1e-6);
        assert!((WireSize::Awg(-3).area_mm2() - 107.219).abs() < 0.01);
        assert!((WireSize::Awg(18).area_mm2() - 0.823).abs() < 0.001);
    }
}
