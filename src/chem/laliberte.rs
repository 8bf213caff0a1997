//! The density formula of Laliberté and Cooper.
//!
//! The solution is water and solute side by side, each with its own volume:
//! `1/ρ = (1 − w)/ρ_water + w·v`, the solute's apparent specific volume being
//! `v = (w + c2 + c3·t) / ((c0·w + c1)·exp(1e-6·(t + c4)²))`, m³/kg, t in °C.

use super::water::water;
use crate::source::{Source, Status};

pub(super) const SOURCE: Source = Source::new(
    "Laliberté & Cooper 2004, J. Chem. Eng. Data 49, 1141; coefficients Laliberté 2009, \
     J. Chem. Eng. Data 54, 1725, as carried by the chemicals package 1.5.2",
    Status::Published,
);

/// Coefficients of one solute and the points they were fitted to.
pub(super) struct Laliberte {
    pub(super) c: [f64; 5],
    /// °C.
    pub(super) t_min: f64,
    /// °C.
    pub(super) t_max: f64,
    pub(super) w_max: f64,
}

impl Laliberte {
    /// Apparent specific volume of the solute, cm³/g.
    fn apparent_volume(&self, w: f64, t: f64) -> f64 {
        let [c0, c1, c2, c3, c4] = self.c;
        let e = libm::exp(1e-6 * (t + c4) * (t + c4));
        1000.0 * (w + c2 + c3 * t) / ((c0 * w + c1) * e)
    }

    /// g/cm³.
    pub(super) fn density(&self, w: f64, t: f64) -> f64 {
        1.0 / ((1.0 - w) / water(t) + w * self.apparent_volume(w, t))
    }
}

const fn fit(c: [f64; 5], t_min: f64, t_max: f64, w_max: f64) -> Laliberte {
    Laliberte {
        c,
        t_min,
        t_max,
        w_max,
    }
}

#[rustfmt::skip]
mod rows {
    use super::{Laliberte, fit};

    pub(in super::super) static HCL: Laliberte = fit(
        [0.000283872260482906, 0.00394946957169882, 2.85020047681807, -0.0157747012568046, -3766.20868665006],
        5.0, 98.82, 0.375698567711746);
    pub(in super::super) static H2SO4: Laliberte = fit(
        [70.8395152347122, 142.352693909248, 0.68779459618793, 0.00649299683206703, 1667.23864629522],
        -11.15, 75.0, 0.782);
    pub(in super::super) static ACETIC: Laliberte = fit(
        [647.289243971958, -1054.58226029586, -1.74610768626879, 0.000365566432763641, -822.999507010544],
        5.0, 85.0, 1.0);
    pub(in super::super) const FESO4_W_MAX: f64 = 0.233225186902511;
    pub(in super::super) static FESO4: Laliberte = fit(
        [-0.224719650197381, 0.121140350304029, 0.735724466696064, -0.021864836634371, 3325.11261125387],
        15.0, 25.0, FESO4_W_MAX);
    pub(in super::super) const FECL2_W_MAX: f64 = 0.209681777577423;
    pub(in super::super) static FECL2: Laliberte = fit(
        [98.6540260106585, 199.504625373479, 0.336389412824619, 0.00384437505475556, 1650.1293370808],
        15.0, 45.0, FECL2_W_MAX);
    pub(in super::super) const FE2SO43_W_MAX: f64 = 0.3009;
    pub(in super::super) static FE2SO43: Laliberte = fit(
        [2894.55958936395, 2061.78820588747, 0.16296156973818, 0.00148597368188428, -81.4062224608394],
        15.0, 25.0, FE2SO43_W_MAX);
    pub(in super::super) static FECL3: Laliberte = fit(
        [-14.9299417767922, 63.3168799033122, 1.15885132665007, 0.0104820838890175, 2163.05805284003],
        0.0, 35.0, 0.5);
}
pub(super) use rows::*;
