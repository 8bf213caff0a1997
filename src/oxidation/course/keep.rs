//! What must be kept: the scale of errors, the balances, and amounts that are
//! not below nothing.

use super::event::Bench;
use super::extrapolation::Scale;
use super::system::{A, AMOUNTS, F2, F3, IN, M, OG, OL, R, REACTIONS, S, State, System, X};
use super::system::{DISSOLVE, OX, RED, SCAV, SED};

/// Errors of an amount count relative to it, down to this share of what its
/// kind comes to in the bottle.
const FLOOR: f64 = 1e-4;
/// Rounding of an extrapolated step, relative to what reacts in it.
const ROUNDING: f64 = 1e-13;

/// What errors of each amount are measured by, beside the amount itself.
pub(super) fn scale_of(bench: &Bench, whole: &System, tolerance: f64) -> Scale {
    let y = &bench.state;
    let vessel = &bench.vessel;
    let iron = y[F2] + y[F3] + y[S];
    let dissolved = vessel.air.dissolved().value * vessel.liquid;
    let gas = vessel.oxygen_of_air(vessel.gas);
    let mut floor = [0.0; AMOUNTS];
    floor[F2] = FLOOR * iron;
    floor[F3] = FLOOR * iron;
    floor[S] = FLOOR * iron;
    floor[M] = FLOOR * iron;
    // What the iron and the gas turn over is known to its last digits only.
    let rounding = ROUNDING * (iron + y[R] + y[OG].max(gas)) / tolerance;
    floor[OL] = (FLOOR * dissolved.max(y[OL])).max(rounding);
    floor[OG] = (FLOOR * gas.max(y[OG]).max(dissolved)).max(rounding);
    floor[IN] = floor[OL].max(FLOOR * iron * whole.oxygen_per_iron);
    floor[R] = FLOOR * y[R].max(iron);
    floor[A] = FLOOR * y[A].max(dissolved);
    floor[X] = FLOOR * iron;
    // An empty bottle has no scale; anything will do.
    Scale {
        tolerance,
        floor: floor.map(|f| f.max(1e-30)),
    }
}

/// What no reaction changes, and how much there is of it.
pub(super) struct Balance {
    pub(super) iron: f64,
    pub(super) iron_size: f64,
    pub(super) electrons: f64,
    pub(super) electron_size: f64,
}

impl Balance {
    pub(super) fn of(system: &System, y: &State) -> Balance {
        let iron = y[F2] + y[F3] + y[S];
        Balance {
            iron: System::iron(y),
            iron_size: iron + y[M],
            electrons: system.electrons(y),
            electron_size: y[F2]
                + y[R]
                + y[X]
                + 3.0 * y[M]
                + 4.0 * (system.oxygen_per_scavenger * y[A] + y[OL] + y[OG] + y[IN].abs()),
        }
    }
}

/// A step in which nothing changes by more than a few per cent.
pub(super) fn first_length(system: &System, y: &State, scale: &Scale) -> f64 {
    let zero = [0.0; AMOUNTS];
    let change = system.after(&zero, &system.rates(y));
    let mut fastest = 0.0_f64;
    for i in 0..zero.len() {
        fastest = fastest.max(change[i].abs() / (y[i].abs() + scale.floor[i]));
    }
    0.05 / fastest
}

/// The state with what fell below nothing by rounding or tolerated error given
/// back by the reaction that took it, and the largest such amount in floors.
pub(super) fn mended(system: &System, y: &State, scale: &Scale) -> (State, f64) {
    if y.iter().all(|&amount| amount >= 0.0) {
        return (*y, 0.0);
    }
    let mut clipped = 0.0_f64;
    for i in [F2, F3, S, OL, OG, R, A, X, M] {
        clipped = clipped.max(-y[i] * FLOOR / scale.floor[i]);
    }
    let mut y = *y;
    let give_back = |y: &mut State, reaction: usize, extent: f64| {
        let mut extents = [0.0; REACTIONS];
        extents[reaction] = -extent;
        *y = system.after(y, &extents);
    };
    if y[A] < 0.0 {
        let missing = y[A];
        give_back(&mut y, SCAV, -missing);
    }
    if y[S] < 0.0 {
        let missing = y[S];
        give_back(&mut y, SED, missing);
    }
    if y[R] < 0.0 && y[F2] > -y[R] {
        let missing = y[R];
        give_back(&mut y, RED, -missing);
    }
    if y[F2] < 0.0 {
        let missing = y[F2];
        give_back(&mut y, OX, -missing);
    }
    if y[OG] < 0.0 {
        let missing = y[OG];
        give_back(&mut y, DISSOLVE, -missing);
    }
    if y[OL] < 0.0 {
        let missing = y[OL];
        let by_iron = -missing / system.oxygen_per_iron;
        if system.headspace && y[OG] > -missing {
            give_back(&mut y, DISSOLVE, missing);
        } else if y[A] > 0.0 && y[F3] < by_iron {
            give_back(&mut y, SCAV, -missing / system.oxygen_per_scavenger);
        } else {
            give_back(&mut y, OX, by_iron);
        }
    }
    if y[F3] < 0.0 {
        let missing = y[F3];
        let from = if y[S] > -missing { SED } else { RED };
        give_back(&mut y, from, -missing);
    }
    for i in [F2, F3, S, OL, OG, R, A, X, M] {
        y[i] = y[i].max(0.0);
    }
    (y, clipped)
}
