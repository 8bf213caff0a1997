//! The named sources of a recipe's uncertainty.

use super::plan::Off;
use crate::bench::Lot;
use crate::quantity::Estimate;
use crate::recipe::{Kit, Measure};
use crate::uncertainty::{Distribution, Input, Inputs, UncertaintyError};

/// A level spoon or a drop is good to about this share of it (expert guess).
const ROUGH: f64 = 0.15;

/// Of what was measured by brewing, at most this comes out.
const MOST_YIELD: f64 = 1.5;

/// What kind of thing is not known: what to measure follows from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Lot(&'static str),
    Yield,
    HoldUp,
    /// By how much a tool is off, in this unit.
    Tool(&'static str),
}

impl Kind {
    /// Unit of its values; "1" for a ratio.
    pub(super) fn unit(self) -> &'static str {
        match self {
            Kind::Lot("galloyl per tannin") => "mol/kg",
            // As CaCO3.
            Kind::Lot("alkalinity" | "hardness") => "kg/m3",
            Kind::Lot(_) | Kind::Yield | Kind::HoldUp => "1",
            Kind::Tool(unit) => unit,
        }
    }
}

/// The inputs of a study, and what each is.
#[derive(Debug, Clone, Default)]
pub(super) struct Sources {
    pub(super) inputs: Inputs,
    pub(super) kinds: Vec<Kind>,
    /// Bags met so far, under the name each has here.
    bags: Vec<(Lot, String)>,
    /// Soaks met so far: what they are known as, and the estimate.
    soaks: Vec<(String, Estimate, Input)>,
    tools: usize,
    /// What the balance's readings share, and the marks'.
    scales: [Option<Input>; 2],
}

impl Sources {
    /// An input for each unknown of a bag, in the bag's order.
    pub(super) fn unknowns_of(&mut self, lot: &Lot) -> Result<Vec<Input>, UncertaintyError> {
        let name = self.name_of(lot);
        lot.unknowns()
            .iter()
            .map(|u| {
                let distribution = u.distribution()?;
                self.add(
                    format!("{name}: {}", u.what),
                    distribution,
                    Kind::Lot(u.what),
                )
            })
            .collect()
    }

    /// Values a source of this name can have at all.
    pub(super) fn possible(&self, name: &str) -> (f64, f64) {
        let place = self.inputs.names().position(|n| n == name);
        match place.and_then(|k| self.kinds.get(k)) {
            Some(Kind::Lot("purity")) => (0.0, 2.0),
            Some(Kind::Lot("galloyl per tannin" | "alkalinity" | "hardness")) => (0.0, 20.0),
            Some(Kind::Lot("iron" | "galloyl" | "acid" | "iron by the eye")) => (0.0, 1e9),
            Some(Kind::Lot(_)) => (0.0, 1.0),
            Some(Kind::Yield) => (0.0, MOST_YIELD),
            Some(Kind::HoldUp) => (0.0, 20.0),
            Some(Kind::Tool(_)) | None => (-1e30, 1e30),
        }
    }

    /// The yield of a soak, between 0 and 1. Soaks of one bag with one
    /// estimate are off together.
    pub(super) fn yield_of(
        &mut self,
        plant: &Lot,
        share: Estimate,
    ) -> Result<Input, UncertaintyError> {
        // Where all is said to come out, the content itself was what came out
        // (tea), and it may be more.
        let most = if share.value() < 1.0 { 1.0 } else { MOST_YIELD };
        let distribution = match share.u() {
            0.0 => Distribution::exact(share.value())?,
            u => Distribution::normal(share.value(), u)?.between(0.0, most)?,
        };
        self.soak(plant, "yield of the soak", share, distribution, Kind::Yield)
    }

    /// Grams of liquid a gram of marc keeps.
    pub(super) fn hold_up_of(
        &mut self,
        plant: &Lot,
        grams_per_gram: Estimate,
    ) -> Result<Input, UncertaintyError> {
        let (value, u) = (grams_per_gram.value(), grams_per_gram.u());
        let distribution = match u {
            0.0 => Distribution::exact(value)?,
            _ => Distribution::normal(value, u)?.between(0.0, 20.0)?,
        };
        self.soak(
            plant,
            "liquid the marc keeps",
            grams_per_gram,
            distribution,
            Kind::HoldUp,
        )
    }

    /// By how much a tool that shows steps of so many kg is off, kg.
    pub(super) fn weighing(
        &mut self,
        lot: &Lot,
        kit: &Kit,
        step_kg: f64,
        kg: f64,
    ) -> Result<Off, UncertaintyError> {
        let tool = kit.tool(lot);
        let balance = matches!(tool, Measure::Balance { .. });
        let distribution = match tool {
            Measure::Balance { .. } => Distribution::weighed(0.0, step_kg)?,
            _ if tool.is_rough() => Distribution::rectangular(-ROUGH * kg, ROUGH * kg)?,
            // Read to the nearest mark.
            _ => Distribution::rectangular(-0.5 * step_kg, 0.5 * step_kg)?,
        };
        Ok(Off {
            reading: self.tool("weighing", lot.name(), distribution, "kg")?,
            scale: self.scale(kit, balance)?,
        })
    }

    /// By how much a jug is off that is filled to the nearest of its marks, m³.
    pub(super) fn mark(&mut self, lot: &Lot, kit: &Kit) -> Result<Off, UncertaintyError> {
        self.by_mark("filling up", lot.name(), kit)
    }

    /// By how much a measured volume of a stock solution is off, m³.
    pub(super) fn poured(&mut self, stock: &str, kit: &Kit) -> Result<Off, UncertaintyError> {
        self.by_mark("measuring", stock, kit)
    }

    /// By how much a weighed portion of a stock solution is off, kg.
    pub(super) fn portioned(&mut self, stock: &str, kit: &Kit) -> Result<Off, UncertaintyError> {
        let reading = match kit.balance_step() {
            Some(step) => {
                let distribution = Distribution::weighed(0.0, step.value)?;
                self.tool("weighing", stock, distribution, "kg")?
            }
            None => None,
        };
        Ok(Off {
            reading,
            scale: self.scale(kit, true)?,
        })
    }

    fn by_mark(&mut self, what: &str, of: &str, kit: &Kit) -> Result<Off, UncertaintyError> {
        let reading = match kit.liquid_step() {
            Some(step) => {
                let half = 0.5 * step.value;
                let distribution = Distribution::rectangular(-half, half)?;
                self.tool(what, of, distribution, "m3")?
            }
            None => None,
        };
        Ok(Off {
            reading,
            scale: self.scale(kit, false)?,
        })
    }

    /// What all readings of the balance, or of the marks, share.
    fn scale(&mut self, kit: &Kit, balance: bool) -> Result<Option<Input>, UncertaintyError> {
        let (slot, name, u) = if balance {
            (0, "the balance's weight", kit.balance_u())
        } else {
            (1, "the marks' volume", kit.volume_u())
        };
        if u > 0.0 && self.scales[slot].is_none() {
            let distribution = Distribution::normal(1.0, u)?.between(0.0, 3.0)?;
            let input = self.add(name.to_string(), distribution, Kind::Tool("1"))?;
            self.scales[slot] = Some(input);
        }
        Ok(self.scales[slot])
    }

    fn tool(
        &mut self,
        what: &str,
        of: &str,
        distribution: Distribution,
        unit: &'static str,
    ) -> Result<Option<Input>, UncertaintyError> {
        self.tools += 1;
        let name = format!("{what} {}: {of}", self.tools);
        self.add(name, distribution, Kind::Tool(unit)).map(Some)
    }

    fn soak(
        &mut self,
        plant: &Lot,
        what: &str,
        estimate: Estimate,
        distribution: Distribution,
        kind: Kind,
    ) -> Result<Input, UncertaintyError> {
        let name = format!("{}: {what}", self.name_of(plant));
        let known = |s: &&(String, Estimate, Input)| s.0 == name;
        let mut alike = self.soaks.iter().filter(known);
        if let Some(same) = alike.clone().find(|s| s.1 == estimate) {
            return Ok(same.2);
        }
        let number = alike.by_ref().count() + 1;
        let full = if number == 1 {
            name.clone()
        } else {
            format!("{name} ({number})")
        };
        let input = self.add(full, distribution, kind)?;
        self.soaks.push((name, estimate, input));
        Ok(input)
    }

    /// What kind of thing the source of a name is.
    pub(super) fn kind(&self, name: &str) -> Option<Kind> {
        let place = self.inputs.names().position(|n| n == name)?;
        self.kinds.get(place).copied()
    }

    /// Two bags of one name are told apart by a number.
    fn name_of(&mut self, lot: &Lot) -> String {
        if let Some((_, name)) = self.bags.iter().find(|(bag, _)| bag.is_same_bag(lot)) {
            return name.clone();
        }
        let taken = |name: &str| self.bags.iter().any(|(_, n)| n == name);
        let name = numbered(lot.name(), taken);
        self.bags.push((lot.clone(), name.clone()));
        name
    }

    fn add(
        &mut self,
        name: String,
        distribution: Distribution,
        kind: Kind,
    ) -> Result<Input, UncertaintyError> {
        // Only a bag called like a weighing gets here with a name twice.
        let name = numbered(&name, |name| self.inputs.names().any(|n| n == name));
        let input = self.inputs.add(name, distribution)?;
        self.kinds.push(kind);
        Ok(input)
    }
}

/// The name, or the first "name (2)", "name (3)" … that is free.
fn numbered(name: &str, taken: impl Fn(&str) -> bool) -> String {
    let others = (2..).map(|n: u32| format!("{name} ({n})"));
    let mut names = core::iter::once(name.to_string()).chain(others);
    names.find(|n| !taken(n)).unwrap_or_default()
}
