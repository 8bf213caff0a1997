//! The equations of the bottle: seven reactions and transfers between ten amounts.

/// Amounts, mol. The order is that of [`Contents`](super::Contents).
pub(super) const AMOUNTS: usize = 10;
/// Iron(II) in solution.
pub(super) const F2: usize = 0;
/// Iron(III) in solution.
pub(super) const F3: usize = 1;
/// Iron(III) settled.
pub(super) const S: usize = 2;
/// Oxygen in the liquid.
pub(super) const OL: usize = 3;
/// Oxygen in the gas.
pub(super) const OG: usize = 4;
/// Electrons that phenols still hold.
pub(super) const R: usize = 5;
/// Scavenger.
pub(super) const A: usize = 6;
/// Electrons taken from other organics.
pub(super) const X: usize = 7;
/// Oxygen that has come in.
pub(super) const IN: usize = 8;
/// Iron dissolved from metal.
pub(super) const M: usize = 9;

pub(super) type State = [f64; AMOUNTS];

/// How far each reaction has gone, mol. Every change of state is a combination
/// of these, so iron and electrons balance whatever the integrator does.
pub(super) const REACTIONS: usize = 7;
pub(super) const OX: usize = 0;
pub(super) const RED: usize = 1;
pub(super) const SED: usize = 2;
pub(super) const METAL: usize = 3;
pub(super) const SCAV: usize = 4;
pub(super) const DISSOLVE: usize = 5;
pub(super) const INGRESS: usize = 6;

pub(super) type Extents = [f64; REACTIONS];

/// Coefficients of the equations in amounts, SI; constant between two events.
#[derive(Debug, Clone, Copy)]
pub(super) struct System {
    /// Oxidation, first and second order in iron(II): 1/(mol s), 1/(mol² s).
    pub(super) ox1: f64,
    pub(super) ox2: f64,
    /// Reduction of iron(III) by phenol, 1/(mol s).
    pub(super) red: f64,
    /// Settling, 1/s, of what is beyond `soluble`, mol.
    pub(super) settle: f64,
    pub(super) soluble: f64,
    /// Reduction of iron(III) by metal, 1/s.
    pub(super) metal: f64,
    /// Scavenger and oxygen, 1/(mol s).
    pub(super) scavenge: f64,
    /// Gas to liquid: `supply + from_gas OG - from_liquid OL`, mol/s.
    pub(super) supply: f64,
    pub(super) from_gas: f64,
    pub(super) from_liquid: f64,
    /// Through the closure: `leak_in - leak_out OG`, mol/s.
    pub(super) leak_in: f64,
    pub(super) leak_out: f64,
    /// Whether there is a headspace of its own; otherwise what dissolves comes
    /// straight from outside.
    pub(super) headspace: bool,
    /// O₂ per iron(II), and per scavenger.
    pub(super) oxygen_per_iron: f64,
    pub(super) oxygen_per_scavenger: f64,
    /// Electrons per iron(II) that phenols and other organics lose on the way.
    pub(super) burnt_phenol: f64,
    pub(super) burnt_other: f64,
}

/// Slopes of the reactions at one state.
#[derive(Clone, Copy)]
pub(super) struct Slopes {
    ox_iron: f64,
    ox_oxygen: f64,
    red_iron: f64,
    red_phenol: f64,
    scav_self: f64,
    scav_oxygen: f64,
}

/// Which reactions go on: they stop at a boundary that the integrator must hit.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Phase {
    /// Iron(III) is beyond what stays dissolved.
    pub(super) settling: bool,
    /// There is phenol left to burn.
    pub(super) phenol: bool,
}

impl System {
    /// The same with only the reactions of this phase.
    pub(super) fn in_phase(&self, phase: Phase) -> System {
        let burnt = self.burnt_phenol + self.burnt_other;
        System {
            settle: if phase.settling { self.settle } else { 0.0 },
            burnt_phenol: if phase.phenol { self.burnt_phenol } else { 0.0 },
            burnt_other: if phase.phenol {
                self.burnt_other
            } else {
                burnt
            },
            ..*self
        }
    }

    /// The phase a state is in.
    pub(super) fn phase(&self, y: &State) -> Phase {
        Phase {
            settling: self.soluble <= 0.0 || y[F3] >= self.soluble,
            phenol: y[R] > 0.0,
        }
    }

    /// Reactions and transfers, mol/s.
    #[inline]
    pub(super) fn rates(&self, y: &State) -> Extents {
        let dissolve = self.supply + self.from_gas * y[OG] - self.from_liquid * y[OL];
        [
            (self.ox1 + self.ox2 * y[F2]) * y[F2] * y[OL],
            self.red * y[F3] * y[R],
            self.settle * (y[F3] - self.soluble),
            self.metal * y[F3],
            self.scavenge * y[A] * y[OL],
            dissolve,
            if self.headspace {
                self.leak_in - self.leak_out * y[OG]
            } else {
                dissolve
            },
        ]
    }

    pub(super) fn slopes(&self, y: &State) -> Slopes {
        Slopes {
            ox_iron: (self.ox1 + 2.0 * self.ox2 * y[F2]) * y[OL],
            ox_oxygen: (self.ox1 + self.ox2 * y[F2]) * y[F2],
            red_iron: self.red * y[R],
            red_phenol: self.red * y[F3],
            scav_self: self.scavenge * y[OL],
            scav_oxygen: self.scavenge * y[A],
        }
    }

    /// Rate at which iron grows of itself, 1/s: metal makes three iron(II) of
    /// two iron(III), and oxygen iron(III) of them.
    pub(super) fn growth(&self, y: &State) -> f64 {
        let out = self.slopes(y).ox_iron;
        let product = out * (0.5 * self.metal - self.settle);
        if product <= 0.0 || y[F2] + y[F3] <= 0.0 {
            return 0.0;
        }
        let sum = out + self.metal + self.settle;
        2.0 * product / (sum + libm::sqrt(sum * sum + 4.0 * product))
    }

    /// What reactions of these extents make of a state.
    #[inline]
    pub(super) fn after(&self, y: &State, e: &Extents) -> State {
        let [ox, red, sed, metal, scav, dissolve, ingress] = *e;
        let gas = if self.headspace {
            ingress - dissolve
        } else {
            0.0
        };
        [
            y[F2] + (red - ox + 1.5 * metal),
            y[F3] + (ox - red - sed - metal),
            y[S] + sed,
            y[OL] + (dissolve - self.oxygen_per_iron * ox - self.oxygen_per_scavenger * scav),
            y[OG] + gas,
            y[R] - (red + self.burnt_phenol * ox),
            y[A] - scav,
            y[X] + self.burnt_other * ox,
            y[IN] + ingress,
            y[M] + 0.5 * metal,
        ]
    }

    /// A linearly implicit Euler step of length `h` from rates `r`: the mean
    /// rates that satisfy `rates = r + slopes · change(rates)`. The chain of
    /// reactions lets it be solved by hand, from the ends to the middle.
    #[inline]
    pub(super) fn implicit(&self, at: &Factored, r: &Extents) -> Extents {
        let h = at.h;
        // Oxygen that would come to the liquid if its content did not change.
        let (come, scav) = (
            if self.headspace {
                (r[DISSOLVE] * at.leak + at.from_gas * r[INGRESS]) * at.per_gas
            } else {
                r[DISSOLVE]
            },
            r[SCAV] * at.per_scavenger,
        );
        let spare = come - self.oxygen_per_scavenger * scav;
        let away = r[SED] + r[METAL];
        let red = (r[RED] - at.red_iron * away) * at.per_red;
        let regained = red + 1.5 * r[METAL] - at.metal_back * (red + away);
        let ox = (r[OX] + at.ox_iron * regained + at.ox_oxygen * spare) * at.per_ox;

        let red = red + at.red_per_ox * ox;
        let iron_iii = at.iron_iii * (ox - red - away);
        let oxygen = at.oxygen * (spare - self.oxygen_per_iron * ox);
        let gas = if self.headspace {
            h * (r[INGRESS] - r[DISSOLVE] + self.from_liquid * oxygen) * at.per_gas
        } else {
            0.0
        };
        let dissolve = r[DISSOLVE] + self.from_gas * gas - self.from_liquid * oxygen;
        [
            ox,
            red,
            r[SED] + self.settle * iron_iii,
            r[METAL] + self.metal * iron_iii,
            scav + at.scavenger_by_oxygen * oxygen,
            dissolve,
            if self.headspace {
                r[INGRESS] - self.leak_out * gas
            } else {
                dissolve
            },
        ]
    }

    /// What [`implicit`](Self::implicit) needs for steps of one length.
    pub(super) fn factored(&self, d: &Slopes, h: f64) -> Factored {
        let leak = 1.0 + h * self.leak_out;
        let per_gas = 1.0 / (leak + h * self.from_gas);
        let gas_side = if self.headspace { leak * per_gas } else { 1.0 };
        let per_scavenger = 1.0 / (1.0 + h * d.scav_self);
        let scavenger_by_oxygen = d.scav_oxygen * per_scavenger;
        let oxygen = h
            / (1.0
                + h * (self.from_liquid * gas_side
                    + self.oxygen_per_scavenger * scavenger_by_oxygen));
        let iron_iii = h / (1.0 + h * (self.settle + self.metal));
        let red_iron = d.red_iron * iron_iii;
        let red_phenol = d.red_phenol * h;
        let per_red = 1.0 / (1.0 + red_iron + red_phenol);
        let red_per_ox = (red_iron - red_phenol * self.burnt_phenol) * per_red;
        // 1 - red_per_ox, without the cancellation.
        let ox_stays = (1.0 + red_phenol * (1.0 + self.burnt_phenol)) * per_red;
        let metal_back = 1.5 * self.metal * iron_iii;
        let ox_iron = d.ox_iron * h;
        let ox_oxygen = d.ox_oxygen * oxygen;
        let per_ox = 1.0
            / (1.0 + ox_iron * ox_stays * (1.0 - metal_back) + ox_oxygen * self.oxygen_per_iron);
        Factored {
            h,
            leak,
            from_gas: h * self.from_gas,
            per_gas,
            per_scavenger,
            scavenger_by_oxygen,
            oxygen,
            iron_iii,
            red_iron,
            per_red,
            red_per_ox,
            metal_back,
            ox_iron,
            ox_oxygen,
            per_ox,
        }
    }

    /// Iron of all kinds less what metal gave; no reaction changes it.
    pub(super) fn iron(y: &State) -> f64 {
        y[F2] + y[F3] + y[S] - y[M]
    }

    /// The electron balance; no reaction changes it. `scale`: the sum of its
    /// terms taken positive.
    pub(super) fn electrons(&self, y: &State) -> f64 {
        let gas = if self.headspace { y[OG] } else { 0.0 };
        y[F2] + y[R] - y[X] + 4.0 * self.oxygen_per_scavenger * y[A] - 4.0 * (y[OL] + gas)
            + 4.0 * y[IN]
            - 3.0 * y[M]
    }
}

/// The linear system of a step, eliminated.
#[derive(Clone, Copy)]
pub(super) struct Factored {
    pub(super) h: f64,
    leak: f64,
    from_gas: f64,
    per_gas: f64,
    per_scavenger: f64,
    scavenger_by_oxygen: f64,
    oxygen: f64,
    iron_iii: f64,
    red_iron: f64,
    per_red: f64,
    red_per_ox: f64,
    metal_back: f64,
    ox_iron: f64,
    ox_oxygen: f64,
    per_ox: f64,
}
