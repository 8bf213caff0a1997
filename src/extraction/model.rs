//! The washes as arithmetic: shares of what the plant holds, per gram of dry
//! plant. A draw of the unknowns is only another [`Setting`].
//!
//! A grain is linear: its content is the sum of its answers to every change of
//! the level it strives for (Duhamel). The level of a wash is the equilibrium
//! of that wash, taken as if it stood from its start. With one wash, or with
//! grains that have come to equilibrium, this is the washing recursion
//! R' = R − C(V − h), C = fR/(V + K); in much water any number of washes is
//! one long soak, as it must be. Liquor that was held back stays dissolved.

use super::parameter::arrhenius;
use super::{Shape, Soak, Straining};

/// What is uncertain, at one draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Setting {
    /// m²/s at 25 °C.
    pub diffusivity: f64,
    /// kJ/mol.
    pub activation: f64,
    /// Radius or half thickness, m.
    pub half_size: f64,
    pub washed: f64,
    pub accessible: f64,
    /// g/g.
    pub partition: f64,
    /// g/g.
    pub drained: f64,
    /// g/g.
    pub pressed: f64,
    /// Of the galls that rain fell on.
    pub rained_half_size: f64,
    pub rained_washed: f64,
}

impl Setting {
    pub fn hold_up(&self, straining: Straining) -> f64 {
        match straining {
            Straining::Drained => self.drained,
            Straining::Pressed => self.pressed,
            Straining::HoldUp(h) => h,
            Straining::Nothing => 0.0,
        }
    }

    fn fourier(&self, soaks: &[Soak], half_size: f64) -> f64 {
        let pace = |s: &Soak| arrhenius(self.diffusivity, self.activation, s.kelvin) * s.seconds;
        soaks.iter().map(pace).sum::<f64>() / (half_size * half_size)
    }
}

/// One wash, checked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Step {
    /// Fresh liquid, g/g dry.
    pub liquid: f64,
    pub soaks: Vec<Soak>,
    pub straining: Straining,
}

/// Everything that is done, checked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    pub shape: Shape,
    /// The plant's own water, g/g dry.
    pub moisture: f64,
    pub rain: Option<Soak>,
    pub steps: Vec<Step>,
}

/// What one wash does, as shares of what the plant holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stage {
    /// In the liquor before straining.
    pub dissolved: f64,
    /// In the liquor that is had.
    pub had: f64,
    /// Liquid that is had, g/g dry.
    pub liquid: f64,
    /// Liquid that stays in the marc, g/g dry.
    pub held: f64,
    /// Share of equilibrium that one wash of this length reaches.
    pub reached: f64,
}

/// All washes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Course {
    pub lost_to_rain: f64,
    pub stages: Vec<Stage>,
}

impl Course {
    pub fn had(&self) -> f64 {
        self.stages.iter().map(|s| s.had).sum()
    }
}

/// What does not hang on the amount of water.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pace {
    lost_to_rain: f64,
    /// At `[i][j]`: the answer of the grain at the end of wash i to a change
    /// at the start of wash j.
    answers: Vec<Vec<f64>>,
}

pub(super) fn pace(plan: &Plan, x: &Setting) -> Pace {
    let answer = |shape: Shape, washed: f64, fo: f64| washed + (1.0 - washed) * shape.of(fo);
    let lost_to_rain = plan.rain.map_or(0.0, |wet| {
        if wet.seconds == 0.0 {
            return 0.0;
        }
        let fo = x.fourier(&[wet], x.rained_half_size);
        x.accessible * answer(Shape::Sphere, x.rained_washed, fo)
    });
    let spans: Vec<f64> = plan
        .steps
        .iter()
        .map(|s| x.fourier(&s.soaks, x.half_size))
        .collect();
    let answers = (0..spans.len())
        .map(|i| {
            let mut fo = 0.0;
            let mut row: Vec<f64> = (0..=i)
                .rev()
                .map(|j| {
                    fo += spans.get(j).copied().unwrap_or(0.0);
                    answer(plan.shape, x.washed, fo)
                })
                .collect();
            row.reverse();
            row
        })
        .collect();
    Pace {
        lost_to_rain,
        answers,
    }
}

/// Every wash in turn; `water` stands for the fresh water of each where it is given.
pub(super) fn washes(plan: &Plan, x: &Setting, pace: &Pace, water: Option<f64>) -> Course {
    let at_first = x.accessible - pace.lost_to_rain;
    let mut grain = at_first;
    let (mut held, mut held_share) = (plan.moisture, 0.0);
    let mut level = at_first;
    // Changes of the level that the grain strives for.
    let mut changes: Vec<f64> = Vec::with_capacity(plan.steps.len());
    let mut stages = Vec::with_capacity(plan.steps.len());
    for (step, answers) in plan.steps.iter().zip(&pace.answers) {
        let liquid = water.unwrap_or(step.liquid) + held;
        let all = grain + held_share;
        let equal = all / (liquid + x.partition);
        changes.push(x.partition * equal - level);
        level = x.partition * equal;
        let answered: f64 = changes.iter().zip(answers).map(|(c, a)| c * a).sum();
        // A wash in less water than the one before it may strive for a level
        // that was never left: nothing goes back into the grain.
        // Rounding may cross the two, so no clamp.
        let strong = ((all - at_first - answered) / liquid)
            .min(equal)
            .max(held_share / liquid);
        let kept = x.hold_up(step.straining).min(liquid);
        stages.push(Stage {
            dissolved: strong * liquid,
            had: strong * (liquid - kept),
            liquid: liquid - kept,
            held: kept,
            reached: answers.last().copied().unwrap_or(0.0),
        });
        grain = (all - strong * liquid).max(0.0);
        (held, held_share) = (kept, strong * kept);
    }
    Course {
        lost_to_rain: pace.lost_to_rain,
        stages,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{celsius, days, hours};

    const IDEAL: Setting = Setting {
        diffusivity: 3e-11,
        activation: 33.0,
        half_size: 0.5e-3,
        washed: 0.0,
        accessible: 1.0,
        partition: 0.5,
        drained: 2.5,
        pressed: 1.2,
        rained_half_size: 7.5e-3,
        rained_washed: 0.05,
    };

    fn plan(liquids: &[f64], soak: Soak) -> Plan {
        Plan {
            shape: Shape::Sphere,
            moisture: 0.0,
            rain: None,
            steps: liquids
                .iter()
                .map(|&liquid| Step {
                    liquid,
                    soaks: vec![soak],
                    straining: Straining::Drained,
                })
                .collect(),
        }
    }

    fn run(plan: &Plan, x: &Setting) -> Course {
        washes(plan, x, &pace(plan, x), None)
    }

    fn long() -> Result<Soak, crate::quantity::OutOfRange> {
        Soak::new(celsius(20.0), days(365.0))
    }

    /// Computed from the recursion with f = 1, e = 1, h = 2.5, K = 0.5;
    /// three decimals.
    #[test]
    fn drained_yields_of_three_washes() -> Result<(), crate::quantity::OutOfRange> {
        for (liquid, sums) in [
            (5.0, [0.455, 0.795, 0.923]),
            (8.0, [0.647, 0.904, 0.974]),
            (10.0, [0.714, 0.934, 0.985]),
            (15.0, [0.806, 0.968, 0.995]),
            (20.0, [0.854, 0.981, 0.998]),
        ] {
            let course = run(&plan(&[liquid; 3], long()?), &IDEAL);
            let mut sum = 0.0;
            for (stage, expected) in course.stages.iter().zip(sums) {
                sum += stage.had;
                assert!((sum - expected).abs() <= 0.5001e-3, "{liquid}: {sum}");
            }
        }
        Ok(())
    }

    /// Computed outside the crate: sphere, D25 3e-11 m²/s, 33 kJ/mol, nothing
    /// washed; two decimals. Diameters. The last, first printed as 0.76, is
    /// 0.7549 when its series is summed with 40 digits.
    #[test]
    fn the_kinetic_picture() -> Result<(), crate::quantity::OutOfRange> {
        for (mm, c, in_half_hour, in_a_day) in [
            (1.0, 20.0, 0.89, Some(1.0)),
            (2.0, 20.0, 0.57, Some(1.0)),
            (2.0, 60.0, 0.93, None),
            (5.0, 20.0, 0.26, Some(0.98)),
            (5.0, 60.0, 0.53, None),
            (5.0, 90.0, 0.7549, None),
        ] {
            let x = Setting {
                half_size: mm * 0.5e-3,
                ..IDEAL
            };
            let at = |time| -> Result<f64, crate::quantity::OutOfRange> {
                let course = run(&plan(&[10.0], Soak::new(celsius(c), time)?), &x);
                Ok(course.stages.first().map_or(f64::NAN, |s| s.reached))
            };
            let reached = at(hours(0.5))?;
            assert!(
                (reached - in_half_hour).abs() <= 0.00501,
                "{mm} {c}: {reached}"
            );
            if let Some(expected) = in_a_day {
                let reached = at(days(1.0))?;
                assert!((reached - expected).abs() <= 0.00501, "{mm} {c}: {reached}");
            }
        }
        Ok(())
    }

    /// One wash of any length: Y = e f (L − h)/(L + K).
    #[test]
    fn one_wash_in_closed_form() -> Result<(), crate::quantity::OutOfRange> {
        let x = Setting {
            washed: 0.25,
            accessible: 0.92,
            ..IDEAL
        };
        let soak = Soak::new(celsius(25.0), hours(0.2))?;
        let fo = 3e-11 * 720.0 / (0.5e-3 * 0.5e-3);
        let f = 0.25 + 0.75 * Shape::Sphere.of(fo);
        let course = run(&plan(&[8.0], soak), &x);
        let expected = 0.92 * f * (8.0 - 2.5) / 8.5;
        // 25 °C by way of K.
        approx::assert_relative_eq!(course.had(), expected, max_relative = 1e-12);
        Ok(())
    }

    /// In water without end two short washes are one of both lengths: the
    /// equation of diffusion knows nothing of fresh water then.
    #[test]
    fn in_much_water_washes_are_one_soak() -> Result<(), crate::quantity::OutOfRange> {
        let x = Setting {
            washed: 0.3,
            half_size: 2e-3,
            ..IDEAL
        };
        let short = Soak::new(celsius(40.0), hours(0.3))?;
        let both = Soak::new(celsius(40.0), hours(0.9))?;
        let thrice = run(&plan(&[1e6; 3], short), &x).had();
        let once = run(&plan(&[1e6], both), &x).had();
        // What is held back and bound is of the order of 1e-6.
        assert!((thrice - once).abs() < 1e-5, "{thrice} {once}");
        Ok(())
    }

    /// After a wash that came to equilibrium: C = C_held + f (C_eq − C_held).
    #[test]
    fn held_liquor_stays_dissolved() -> Result<(), crate::quantity::OutOfRange> {
        let x = Setting {
            washed: 0.2,
            half_size: 2e-3,
            ..IDEAL
        };
        let mut two = plan(&[6.0, 9.0], long()?);
        let short = Soak::new(celsius(25.0), hours(1.0))?;
        if let Some(step) = two.steps.get_mut(1) {
            step.soaks = vec![short];
        }
        let f = 0.2 + 0.8 * Shape::Sphere.of(3e-11 * 3600.0 / 4e-6);
        let strong = 1.0 / 6.5;
        let left = 1.0 - strong * (6.0 - 2.5);
        let (held, equal) = (strong * 2.5 / 11.5, left / 12.0);
        let expected = (held + f * (equal - held)) * (11.5 - 2.5);
        let second = run(&two, &x).stages.get(1).map_or(f64::NAN, |s| s.had);
        approx::assert_relative_eq!(second, expected, max_relative = 1e-12);
        Ok(())
    }

    /// Held liquor at equilibrium with the marc, and a drop more of water:
    /// what is dissolved and what could be are equal but for rounding.
    #[test]
    fn a_drop_of_water_changes_nothing() -> Result<(), crate::quantity::OutOfRange> {
        for k in 0..200 {
            let first = 0.1 + 0.01 * f64::from(k);
            let course = run(&plan(&[first, 1e-6, 1e-6, 5.0], long()?), &IDEAL);
            let before = course.stages.first().map_or(f64::NAN, |s| s.dissolved);
            let after = course.stages.get(2).map_or(f64::NAN, |s| s.dissolved);
            // Two millionths of water more, at the least a tenth before.
            approx::assert_relative_eq!(after, before, max_relative = 2.1e-5);
        }
        Ok(())
    }

    #[test]
    fn a_marc_that_drinks_it_all_gives_nothing() -> Result<(), crate::quantity::OutOfRange> {
        let course = run(&plan(&[2.0, 2.0], long()?), &IDEAL);
        assert_eq!(
            course.stages.first().map(|s| (s.had, s.liquid)),
            Some((0.0, 0.0))
        );
        // The second finds 2 g of liquor there: 4 g, of which 1.5 g drain.
        let second = course.stages.get(1).map_or(f64::NAN, |s| s.had);
        approx::assert_relative_eq!(second, 1.5 / 4.5, max_relative = 1e-12);
        Ok(())
    }
}
