//! Many inks from one shelf.

use super::{Blend, FormulateError, Objective, Shelf, Wanted};
use crate::quantity::{Mass, kilograms};

impl Shelf {
    /// [`Shelf::make`] for each of many inks, in their order; one that fails
    /// does not stop the others. Each is made from the whole shelf: what one
    /// takes is there for the next.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::formulate::{Objective, Shelf, Wanted};
    /// use ferrogall::quantity::*;
    /// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
    ///     .with(&Lot::of("iron_ii_sulfate_heptahydrate")?.build()?)
    ///     .with(&Lot::of("tannic_acid")?.build()?);
    /// let strong = |g| Wanted::new(liters(1.0))?.iron(grams_per_liter(g));
    /// let wanted = [strong(2.0)?, strong(4.0)?];
    /// let made = shelf.make_each(&wanted, Objective::LeastCost);
    /// let [weak, strong] = &made[..] else { unreachable!() };
    /// let vitriol = |made: &Result<_, _>| shelf.masses_in(made.as_ref().unwrap())[0];
    /// assert!((vitriol(strong) / vitriol(weak)).value > 1.999);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn make_each(
        &self,
        wanted: &[Wanted],
        objective: Objective,
    ) -> Vec<Result<Blend, FormulateError>> {
        wanted.iter().map(|w| self.make(w, objective)).collect()
    }

    /// The same on as many cores as there are, with the same bits.
    #[cfg(feature = "rayon")]
    pub fn make_each_parallel(
        &self,
        wanted: &[Wanted],
        objective: Objective,
    ) -> Vec<Result<Blend, FormulateError>> {
        use rayon::prelude::*;
        let all = wanted.par_iter().map(|w| self.make(w, objective));
        all.collect()
    }

    /// What a blend takes of each lot, in the order in which they stand on the
    /// shelf; nothing of those it does without.
    ///
    /// ```
    /// use ferrogall::bench::Lot;
    /// use ferrogall::formulate::{Objective, Shelf, Wanted};
    /// use ferrogall::quantity::*;
    /// let shelf = Shelf::new(&Lot::of("distilled_water")?.build()?)
    ///     .with(&Lot::of("tannic_acid")?.build()?)
    ///     .with(&Lot::of("gum_arabic")?.build()?);
    /// let wanted = Wanted::new(liters(1.0))?.gum(grams_per_liter(10.0))?;
    /// let made = shelf.make(&wanted, Objective::LeastCost)?;
    /// let masses = shelf.masses_in(&made);
    /// assert_eq!((masses[0], masses[1]), (grams(0.0), made.taken[0].mass));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn masses_in(&self, blend: &Blend) -> Vec<Mass> {
        let of = |name: &str| {
            let taken = blend.taken.iter().find(|t| t.lot == name);
            taken.map_or(kilograms(0.0), |t| t.mass)
        };
        self.stocks().iter().map(|s| of(s.lot().name())).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Lot;
    use crate::quantity::{grams, grams_per_liter, liters};
    use std::error::Error;

    fn shelf() -> Result<Shelf, Box<dyn Error>> {
        let lot = |id| Lot::of(id).and_then(|l| l.build());
        let vitriol = super::super::Stock::of(&lot("iron_ii_sulfate_heptahydrate")?);
        Ok(Shelf::new(&lot("distilled_water")?)
            .with(vitriol.on_hand(grams(15.0))?)
            .with(&lot("tannic_acid")?)
            .with(&lot("hydrochloric_acid")?))
    }

    fn many() -> Result<Vec<Wanted>, Box<dyn Error>> {
        let one = |i: usize| {
            let iron = grams_per_liter(0.5 + 0.25 * i as f64);
            let wanted = Wanted::new(liters(1.0))?.iron(iron..)?;
            let wanted = wanted.iron_ii_per_galloyl(0.5..=0.6)?;
            // Some of them sour as well: a search that corrects itself.
            if i.is_multiple_of(3) {
                wanted.ph(..=1.9)
            } else {
                Ok(wanted)
            }
        };
        Ok((0..15).map(one).collect::<Result<_, _>>()?)
    }

    #[test]
    fn each_is_what_it_is_alone() -> Result<(), Box<dyn Error>> {
        let (shelf, wanted) = (shelf()?, many()?);
        let made = shelf.make_each(&wanted, Objective::LeastCost);
        assert_eq!(made.len(), wanted.len());
        for (made, wanted) in made.iter().zip(&wanted) {
            assert_eq!(*made, shelf.make(wanted, Objective::LeastCost));
        }
        // 15 g of vitriol is some 3 g of iron.
        let met = made.iter().flatten().filter(|b| b.meets_all()).count();
        assert!((5..12).contains(&met), "{met}");
        Ok(())
    }

    #[cfg(feature = "rayon")]
    #[test]
    fn many_cores_give_the_same_bits() -> Result<(), Box<dyn Error>> {
        let (shelf, wanted) = (shelf()?, many()?);
        let one = shelf.make_each(&wanted, Objective::LeastCost);
        let all = shelf.make_each_parallel(&wanted, Objective::LeastCost);
        let bits = |made: &[Result<Blend, FormulateError>]| -> Vec<u64> {
            let masses = made.iter().flatten().flat_map(|b| shelf.masses_in(b));
            masses.map(|m| m.value.to_bits()).collect()
        };
        assert_eq!(bits(&one), bits(&all));
        assert_eq!(one, all);
        Ok(())
    }

    #[test]
    fn one_that_fails_stops_no_other() -> Result<(), Box<dyn Error>> {
        let shelf = shelf()?;
        let twice = Lot::of("tannic_acid").and_then(|l| l.build())?;
        let wanted = many()?;
        let made = shelf.with(&twice).make_each(&wanted, Objective::Closest);
        assert_eq!(made.len(), wanted.len());
        assert!(
            made.iter()
                .all(|m| matches!(m, Err(FormulateError::NameTaken { .. })))
        );
        Ok(())
    }
}
