//! Relative permittivity (dielectric constant) of water.

use super::water::water;
use crate::quantity::{OutOfRange, ReadTemperature, Temperature, within};
use crate::source::{Constant, Source, Status};

const R8_97: Source = Source::new(
    "IAPWS R8-97, Release on the static dielectric constant of ordinary water substance \
     (Fernández et al. 1997, J. Phys. Chem. Ref. Data 26, 1125)",
    Status::Published,
);

const fn r8_97(id: &'static str, value: f64, unit: &'static str) -> Constant {
    Constant {
        id,
        value,
        u: 0.0,
        unit,
        source: R8_97,
    }
}

/// The correlation as released, with the physical constants of its time.
pub(crate) static CONSTANTS: [Constant; 20] = [
    r8_97("permittivity_n1", 0.978224486826, ""),
    r8_97("permittivity_n2", -0.957771379375, ""),
    r8_97("permittivity_n3", 0.237511794148, ""),
    r8_97("permittivity_n4", 0.714692244396, ""),
    r8_97("permittivity_n5", -0.298217036956, ""),
    r8_97("permittivity_n6", -0.108863472196, ""),
    r8_97("permittivity_n7", 0.0949327488264, ""),
    r8_97("permittivity_n8", -0.00980469816509, ""),
    r8_97("permittivity_n9", 0.0000165167634970, ""),
    r8_97("permittivity_n10", 0.0000937359795772, ""),
    r8_97("permittivity_n11", -0.123179218720e-9, ""),
    r8_97("permittivity_n12", 0.00196096504426, ""),
    r8_97("permittivity_boltzmann", 1.380658e-23, "J/K"),
    r8_97("permittivity_avogadro", 6.0221367e23, "1/mol"),
    r8_97("permittivity_polarisability", 1.636e-40, "C2 m2/J"),
    r8_97("permittivity_dipole_moment", 6.138e-30, "C m"),
    r8_97("permittivity_of_vacuum", 8.854187817e-12, "C2/(J m)"),
    r8_97("permittivity_molar_mass", 0.018015268, "kg/mol"),
    r8_97("permittivity_critical_density", 322.0, "kg/m3"),
    r8_97("permittivity_critical_temperature", 647.096, "K"),
];

/// Powers of reduced density and of inverse reduced temperature, term by term.
const POWERS: [(i32, f64); 11] = [
    (1, 0.25),
    (1, 1.0),
    (1, 2.5),
    (2, 1.5),
    (3, 1.5),
    (3, 2.5),
    (4, 2.0),
    (5, 2.0),
    (6, 5.0),
    (7, 0.5),
    (10, 10.0),
];

/// Relative permittivity of water under one atmosphere, 0 to 100 °C.
///
/// ```
/// use ferrogall::chem::water_permittivity;
/// use ferrogall::quantity::celsius;
/// assert!((water_permittivity(celsius(25.0))? - 78.41).abs() < 0.01);
/// # Ok::<(), ferrogall::quantity::OutOfRange>(())
/// ```
///
/// # Errors
/// [`OutOfRange`] outside 0 to 100 °C.
pub fn water_permittivity(t: Temperature) -> Result<f64, OutOfRange> {
    let celsius = within("temperature of water", t.in_celsius(), 0.0, 100.0, "°C")?;
    Ok(permittivity(1000.0 * water(celsius), t.value))
}

/// At `density` kg/m³ and `kelvin`, inside the liquid region.
fn permittivity(density: f64, kelvin: f64) -> f64 {
    let [
        terms @ ..,
        boltzmann,
        avogadro,
        polarisability,
        dipole,
        vacuum,
        molar_mass,
        critical_density,
        critical_temperature,
    ] = CONSTANTS.each_ref().map(|c| c.value);
    let d = density / critical_density;
    let inverse_t = critical_temperature / kelvin;
    let [series @ .., last] = terms;
    let mut g = 1.0 + last * d * libm::pow(kelvin / 228.0 - 1.0, -1.2);
    for (n, (i, j)) in series.iter().zip(POWERS) {
        g += n * libm::pow(d, f64::from(i)) * libm::pow(inverse_t, j);
    }
    let per_volume = avogadro * density / molar_mass / vacuum;
    let a = per_volume * dipole * dipole * g / (boltzmann * kelvin);
    let b = per_volume * polarisability / 3.0;
    let root = libm::sqrt(9.0 + 2.0 * a + 18.0 * b + a * a + 10.0 * a * b + 9.0 * b * b);
    (1.0 + a + 5.0 * b + root) / (4.0 - 4.0 * b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table 4 of the release.
    #[test]
    fn the_check_value_of_the_release() {
        approx::assert_abs_diff_eq!(
            permittivity(999.242866, 298.15),
            78.5907250,
            epsilon = 5e-8 // its last digit
        );
        approx::assert_abs_diff_eq!(permittivity(26.0569558, 873.15), 1.12620970, epsilon = 5e-9);
    }
}
