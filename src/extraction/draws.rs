//! The draws of everything uncertain: the same ones in every run, so that two
//! ways of working can be compared.

use super::model::Setting;
use super::parameter::distribution;
use super::{Grain, Parameter};
use crate::bench::{Lot, Material, TanninClass};
use crate::quantity::OutOfRange;
use crate::source::Range;
use crate::uncertainty::{Distribution, stream};

/// Draws of an interval: its ends then wander by about 2 % of its width.
pub(super) const DRAWS: usize = 1000;
const SEED: u64 = 1;

/// The diffusivity for what is in the plant.
pub(super) fn diffusivity_of(plant: &Lot) -> Parameter {
    match plant.material() {
        Some(Material::TanninSource(t)) if t.class == TanninClass::TeaPolyphenols => {
            Parameter::TEA_DIFFUSIVITY
        }
        _ => Parameter::GALLOTANNIN_DIFFUSIVITY,
    }
}

/// All draws of a parameter.
pub(super) fn drawn(parameter: &Parameter) -> Vec<f64> {
    column(
        parameter.id,
        parameter.distribution(),
        parameter.range.typical,
    )
}

fn of_range(name: &str, range: Range, by_factors: bool) -> Vec<f64> {
    column(name, distribution(range, by_factors), range.typical)
}

fn column(name: &str, distribution: Option<Distribution>, typical: f64) -> Vec<f64> {
    let mut parts = vec![0.0; DRAWS];
    stream::uniforms(SEED, stream::stream_of(name), 0, &mut parts);
    for x in &mut parts {
        *x = distribution.map_or(typical, |d| d.quantile(*x));
    }
    parts
}

/// How much stronger or weaker than typical the lot is.
pub(super) fn strengths(plant: &Lot) -> Result<Vec<f64>, OutOfRange> {
    let u_ln = plant.strength_u().galloyl.min(20.0);
    let strength = Distribution::log_normal(1.0, u_ln)?;
    let name = format!("galloyl of {}", plant.name());
    Ok(column(&name, Some(strength), 1.0))
}

/// Everything at its typical value.
pub(super) fn typical(plant: &Lot, grain: &Grain, rained: &Grain) -> Setting {
    Setting {
        diffusivity: diffusivity_of(plant).range.typical,
        activation: Parameter::DIFFUSION_ACTIVATION.range.typical,
        half_size: 0.5 * grain.size_range().typical,
        washed: grain.washed_range().typical,
        accessible: Parameter::ACCESSIBLE.range.typical,
        partition: Parameter::PARTITION.range.typical,
        drained: Parameter::HOLD_UP_DRAINED.range.typical,
        pressed: Parameter::HOLD_UP_PRESSED.range.typical,
        rained_half_size: 0.5 * rained.size_range().typical,
        rained_washed: rained.washed_range().typical,
    }
}

/// All draws of the setting.
pub(super) fn settings(plant: &Lot, grain: &Grain, rained: &Grain) -> Vec<Setting> {
    let mut all = vec![typical(plant, grain, rained); DRAWS];
    let mut set = |values: Vec<f64>, put: fn(&mut Setting, f64)| {
        for (setting, value) in all.iter_mut().zip(values) {
            put(setting, value);
        }
    };
    set(drawn(&diffusivity_of(plant)), |s, x| s.diffusivity = x);
    set(drawn(&Parameter::DIFFUSION_ACTIVATION), |s, x| {
        s.activation = x
    });
    set(drawn(&Parameter::ACCESSIBLE), |s, x| s.accessible = x);
    set(drawn(&Parameter::PARTITION), |s, x| s.partition = x);
    set(drawn(&Parameter::HOLD_UP_DRAINED), |s, x| s.drained = x);
    set(drawn(&Parameter::HOLD_UP_PRESSED), |s, x| s.pressed = x);
    set(of_range("grain size", grain.size_range(), true), |s, x| {
        s.half_size = 0.5 * x;
    });
    set(
        of_range("washed share", grain.washed_range(), false),
        |s, x| s.washed = x,
    );
    set(
        of_range("rained size", rained.size_range(), true),
        |s, x| {
            s.rained_half_size = 0.5 * x;
        },
    );
    set(
        of_range("rained washed share", rained.washed_range(), false),
        |s, x| {
            s.rained_washed = x;
        },
    );
    all
}
