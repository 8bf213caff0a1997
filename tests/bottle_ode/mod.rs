//! The equations of a bottle, written a second time and in other units than
//! the crate's (mol, L, atm), for solvers of other people.
#![allow(clippy::unwrap_used, dead_code)] // each of those who share it uses a part

use differential_equations::prelude::*;
use ferrogall::oxidation::{
    Air, Conductance, Contents, Course, FirstOrder, HenryConstant, Kinetics, SecondOrder,
    ThirdOrder, Vessel,
};
use ferrogall::quantity::{Share, celsius, liters, moles, moles_per_liter};
use uom::si::f64::{Pressure, VolumeRate};
use uom::si::pressure::atmosphere;
use uom::si::volume_rate::liter_per_second;

/// Amounts, mol: iron(II), iron(III), sediment, oxygen in the liquid and in
/// the gas, electrons of phenol, scavenger, electrons of other organics,
/// oxygen come in.
pub type Amounts = [f64; 9];

/// L atm/(mol K)
const R: f64 = 8.314_462_618_153_24 / 101.325;
const KELVIN: f64 = 298.15;

/// Parameters in L, mol/L, s and atm, at 25 °C.
#[derive(Debug, Clone, Copy)]
pub struct Plain {
    pub liquid: f64,
    pub gas: f64,
    pub open: bool,
    pub transfer: f64,
    pub g: f64,
    pub p_amb: f64,
    pub henry: f64,
    pub k1: f64,
    pub k2: f64,
    pub nu: f64,
    pub k_red: f64,
    pub phi: f64,
    pub k_sed: f64,
    pub soluble: f64,
    pub k_a: f64,
    pub s_a: f64,
}

impl Plain {
    /// mol of oxygen in a volume of outside air.
    pub fn of_air(&self, liters: f64) -> f64 {
        self.p_amb * liters / (R * KELVIN)
    }

    fn has_gas(&self) -> bool {
        !self.open && self.gas > 0.0
    }

    /// Electrons that phenols and others lose for each iron(II).
    fn burnt(&self, phenol: f64) -> (f64, f64) {
        let missing = (4.0 - self.nu) / self.nu;
        let phi = if phenol > 0.0 { self.phi } else { 0.0 };
        (phi * missing, (1.0 - phi) * missing)
    }
}

impl ODE<f64, Amounts> for Plain {
    fn diff(&self, _: f64, y: &Amounts, d: &mut Amounts) {
        let v = self.liquid;
        let [c2, c3, _, c_o, _, c_r, c_a, _, _] = y.map(|n| n / v);
        let ox = (self.k1 * c2 + self.k2 * c2 * c2) * c_o;
        let red = self.k_red * c3 * c_r;
        let sed = self.k_sed * (c3 - self.soluble).max(0.0);
        let scav = self.k_a * c_a * c_o;
        let (j, leak) = if self.has_gas() {
            let p = y[4] * R * KELVIN / self.gas;
            (
                self.transfer * (self.henry * p - c_o),
                self.g * (self.p_amb - p),
            )
        } else {
            let j = if self.open {
                self.transfer * (self.henry * self.p_amb - c_o)
            } else {
                0.0
            };
            (j, j)
        };
        let (phenol, other) = self.burnt(y[5]);
        *d = [
            v * (red - ox),
            v * (ox - red - sed),
            v * sed,
            j - v * (ox / self.nu + self.s_a * scav),
            if self.has_gas() { leak - j } else { 0.0 },
            v * (-red - phenol * ox),
            -v * scav,
            v * other * ox,
            leak,
        ];
    }

    fn jacobian(&self, _: f64, y: &Amounts, m: &mut Matrix<f64>) {
        let v = self.liquid;
        let [c2, c3, _, c_o, _, c_r, c_a, _, _] = y.map(|n| n / v);
        for row in 0..9 {
            for column in 0..9 {
                m[(row, column)] = 0.0;
            }
        }
        let (phenol, other) = self.burnt(y[5]);
        // Of ox, by iron(II) and by oxygen.
        let by_iron = (self.k1 + 2.0 * self.k2 * c2) * c_o;
        let by_oxygen = self.k1 * c2 + self.k2 * c2 * c2;
        for (column, slope) in [(0, by_iron), (3, by_oxygen)] {
            m[(0, column)] -= slope;
            m[(1, column)] += slope;
            m[(3, column)] -= slope / self.nu;
            m[(5, column)] -= phenol * slope;
            m[(7, column)] += other * slope;
        }
        for (column, slope) in [(1, self.k_red * c_r), (5, self.k_red * c3)] {
            m[(0, column)] += slope;
            m[(1, column)] -= slope;
            m[(5, column)] -= slope;
        }
        if c3 > self.soluble {
            m[(1, 1)] -= self.k_sed;
            m[(2, 1)] += self.k_sed;
        }
        for (column, slope) in [(3, self.k_a * c_a), (6, self.k_a * c_o)] {
            m[(3, column)] -= self.s_a * slope;
            m[(6, column)] -= slope;
        }
        if self.has_gas() {
            let per_mol = R * KELVIN / self.gas;
            let back = self.transfer * self.henry * per_mol;
            m[(3, 3)] -= self.transfer / v;
            m[(3, 4)] += back;
            m[(4, 3)] += self.transfer / v;
            m[(4, 4)] -= back + self.g * per_mol;
            m[(8, 4)] -= self.g * per_mol;
        } else if self.open {
            m[(3, 3)] -= self.transfer / v;
            m[(8, 3)] -= self.transfer / v;
        }
    }
}

/// Radau5 from one time to another. Tolerances go in as one for each amount:
/// version 0.7 of that crate adjusts a single one once for each amount.
/// Returns the amounts and the number of evaluations.
pub fn radau5(
    bottle: &Plain,
    from: f64,
    to: f64,
    y: &Amounts,
    rtol: f64,
    atol: &Amounts,
) -> Option<(Amounts, usize)> {
    let method = ImplicitRungeKutta::radau5().rtol([rtol; 9]).atol(*atol);
    let solution = IVP::ode(bottle, from, to, *y).method(method).solve().ok()?;
    let evaluations = solution.evals.function;
    Some((*solution.y.last()?, evaluations))
}

/// What each amount can come to.
pub fn sizes(b: &Plain, start: &Amounts) -> Amounts {
    let iron = start[0] + start[1];
    let oxygen = start[3] + start[4] + b.of_air(b.liquid);
    let phenol = start[5].max(iron);
    let scavenger = start[6].max(oxygen);
    [
        iron, iron, iron, start[3], oxygen, phenol, scavenger, iron, oxygen,
    ]
}

/// The same bottle in the words of the crate.
pub fn course(b: &Plain, start: &Amounts) -> Course<'static> {
    let henry = HenryConstant::moles_per_liter_atm(b.henry).unwrap();
    let air = Air::of(celsius(25.0), Pressure::new::<atmosphere>(b.p_amb), henry).unwrap();
    let vessel = Vessel::closed(liters(b.liquid), liters(b.gas), air)
        .unwrap()
        .transfer(VolumeRate::new::<liter_per_second>(b.transfer))
        .unwrap()
        .conductance(Conductance::mol_per_second_atm(b.g).unwrap());
    let vessel = if b.open {
        vessel.standing_open()
    } else {
        vessel
    };
    let meeting = |k| SecondOrder::l_per_mol_s(k).unwrap();
    let settling = FirstOrder::per_second(b.k_sed).unwrap();
    let kinetics = Kinetics::builder()
        .oxidation(meeting(b.k1))
        .oxidation_by_two(ThirdOrder::l2_per_mol2_s(b.k2).unwrap())
        .reduction(meeting(b.k_red))
        .settling(settling, moles_per_liter(b.soluble))
        .scavenging(meeting(b.k_a), b.s_a)
        .iron_per_oxygen(b.nu)
        .rest_from_phenol(Share::new(b.phi).unwrap())
        .build()
        .unwrap();
    let [f2, f3, _, o_l, o_g, r, a, _, _] = start.map(moles);
    let ink = Contents {
        iron_iii: f3,
        oxygen_dissolved: o_l,
        oxygen_gas: o_g,
        phenol_electrons: r,
        scavenger: a,
        ..Contents::iron(f2)
    };
    Course::new(vessel, kinetics, ink)
}

/// In the order of the equations.
pub fn amounts(c: &Contents) -> Amounts {
    [
        c.iron_ii,
        c.iron_iii,
        c.sediment,
        c.oxygen_dissolved,
        c.oxygen_gas,
        c.phenol_electrons,
        c.scavenger,
        c.other_electrons,
        c.oxygen_in,
    ]
    .map(|n| n.value)
}
