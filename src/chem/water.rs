//! Density of water.

use crate::quantity::{
    MassDensity, OutOfRange, ReadTemperature, Temperature, grams_per_cubic_centimeter, within,
};
use crate::source::{Constant, Source, Status};

const KELL: Source = Source::new(
    "Kell 1975, Density, thermal expansivity, and compressibility of liquid water from 0 to \
     150 °C, J. Chem. Eng. Data 20, 97, eq. 16",
    Status::Published,
);

const fn kell(id: &'static str, value: f64, unit: &'static str) -> Constant {
    Constant {
        id,
        value,
        u: 0.0,
        unit,
        source: KELL,
    }
}

pub(super) static A0: Constant = kell("water_density_a0", 999.83952, "kg/m3");
pub(super) static A1: Constant = kell("water_density_a1", 16.945176, "kg/(m3 °C)");
pub(super) static A2: Constant = kell("water_density_a2", -7.9870401e-3, "kg/(m3 °C2)");
pub(super) static A3: Constant = kell("water_density_a3", -46.170461e-6, "kg/(m3 °C3)");
pub(super) static A4: Constant = kell("water_density_a4", 105.56302e-9, "kg/(m3 °C4)");
pub(super) static A5: Constant = kell("water_density_a5", -280.54253e-12, "kg/(m3 °C5)");
pub(super) static B: Constant = kell("water_density_b", 16.879850e-3, "1/°C");

/// Density of air-free water under one atmosphere, 0 to 100 °C.
///
/// Kell's temperatures are of the scale of 1968; today's (1990) differs by at
/// most 0.026 °C here, which moves the density by less than 0.02 kg/m³.
///
/// ```
/// use ferrogall::chem::water_density;
/// use ferrogall::quantity::{ReadMassDensity, celsius};
/// let rho = water_density(celsius(20.0))?.in_grams_per_cubic_centimeter();
/// assert!((rho - 0.998204).abs() < 1e-6);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
///
/// # Errors
/// [`OutOfRange`] outside 0 to 100 °C.
pub fn water_density(t: Temperature) -> Result<MassDensity, OutOfRange> {
    let t = within("temperature of water", t.in_celsius(), 0.0, 100.0, "°C")?;
    Ok(grams_per_cubic_centimeter(water(t)))
}

/// g/cm³ at `t` °C in 0..=100.
pub(super) fn water(t: f64) -> f64 {
    let above =
        A0.value + t * (A1.value + t * (A2.value + t * (A3.value + t * (A4.value + t * A5.value))));
    above / (1.0 + B.value * t) / 1000.0
}
