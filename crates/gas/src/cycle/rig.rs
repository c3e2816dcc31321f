//! The engine in `L` lanes as it stands at one moment: ducts, vessels, reed, fire.

use super::fire::Fire;
use super::ledger::Holding;
use super::missing::ModelError;
use super::model::{Model, Piece};
use super::settings::{Settings, Tract};
use super::trace::FlowsNow;
use super::walls::Walls;
use super::zones::Zones;
use crate::duct::{Duct, GasState, Geometry, Instructions, Section, ShapeError};
use crate::reed::{Reed, ReedState};
use crate::throttle::Throttle;
use crate::vessel::{Contents, Scavenging};
use std::f64::consts::PI;

/// One duct with its walls.
#[derive(Debug, Clone)]
pub(crate) struct Run<const L: usize> {
    pub(crate) duct: Duct<L>,
    pub(crate) walls: Walls,
    /// Distance of its beginning from that of its tract, m.
    pub(crate) from_m: f64,
}

impl<const L: usize> Run<L> {
    fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Run<M> {
        Run { duct: self.duct.gather(lanes), walls: self.walls.clone(), from_m: self.from_m }
    }
}

/// All of it.
#[derive(Debug, Clone)]
pub(crate) struct Rig<'a, const L: usize> {
    pub(crate) model: &'a Model,
    pub(crate) settings: &'a Settings,
    pub(crate) set: Instructions,
    pub(crate) speed_rad_s: f64,
    /// From the cylinder wall outwards, and from the mouth inwards; several where the area steps.
    pub(crate) exhaust: Vec<Run<L>>,
    pub(crate) intake: Vec<Run<L>>,
    /// One, from the crankcase to the ports.
    pub(crate) transfer: Vec<Run<L>>,
    pub(crate) cylinder: Contents<L>,
    pub(crate) crankcase: Contents<L>,
    pub(crate) airbox: Option<Contents<L>>,
    pub(crate) reed: Option<Reed>,
    pub(crate) petals: [ReedState; L],
    pub(crate) fires: [Option<Fire>; L],
    /// Fresh and burned gas in the cylinder.
    pub(crate) zones: Zones<L>,
    pub(crate) scavenging: Scavenging,
    /// Mass flows of the last step.
    pub(crate) flows: [FlowsNow; L],
    /// Steps taken since the walls were renewed.
    pub(crate) since_renewal: u32,
    /// Whether the exhaust was open in the last step.
    pub(crate) was_open: [bool; L],
    /// Open share of the throat when the throttle is not wide open: it then parts the intake.
    pub(crate) throttled: Option<f64>,
    /// Greatest area of the inlet ports, m².
    pub(crate) inlet_most_m2: f64,
}

/// Conditions a cold start begins with: exhaust pipe from port to tail, and the cylinder at bottom dead centre.
const PIPE_BEGIN_K: f64 = 850.0;
const PIPE_END_K: f64 = 600.0;
const CYLINDER_K: f64 = 600.0;
const CYLINDER_BURNED: f64 = 0.4;

impl<'a, const L: usize> Rig<'a, L> {
    /// A cold start at bottom dead centre.
    pub(crate) fn cold(
        model: &'a Model,
        settings: &'a Settings,
        speed_rad_s: f64,
    ) -> Result<Self, ModelError> {
        let share = settings.throttle.unwrap_or(model.intake.opening);
        let throttled = Some(throat_share(&model.intake.throttle, share)?).filter(|_| share < 1.0);
        let exhaust = ducts(model, settings, Tract::Exhaust, false)?;
        let intake = ducts(model, settings, Tract::Intake, throttled.is_some())?;
        let transfer = ducts(model, settings, Tract::Transfer, false)?;
        let fresh = model.fresh;
        let hot = GasState { temperature_k: CYLINDER_K, ..mixed(&fresh, CYLINDER_BURNED) };
        let gas = &model.caloric;
        Ok(Self {
            model,
            settings,
            set: Instructions::best(),
            speed_rad_s,
            exhaust,
            intake,
            transfer,
            cylinder: Contents::filled(gas, model.cylinder_m3(-PI), |_| hot),
            crankcase: Contents::filled(gas, model.below_m3(-PI), |_| fresh),
            airbox: model.intake.airbox_m3.map(|volume_m3| Contents::filled(gas, volume_m3, |_| fresh)),
            reed: model.reed.as_ref().map(|block| Reed::of(block, settings.reed.motion())),
            petals: [ReedState::default(); L],
            fires: [None; L],
            zones: Zones::NEW,
            scavenging: settings.scavenging.model(),
            flows: [FlowsNow::default(); L],
            since_renewal: 0,
            was_open: [true; L],
            throttled,
            inlet_most_m2: 0.0,
        })
    }

    /// The same engine with some of the lanes only, between two turns.
    pub(crate) fn gather<const M: usize>(&self, lanes: &[usize; M]) -> Rig<'a, M> {
        let tract = |runs: &[Run<L>]| -> Vec<Run<M>> { runs.iter().map(|run| run.gather(lanes)).collect() };
        Rig {
            model: self.model,
            settings: self.settings,
            set: self.set,
            speed_rad_s: self.speed_rad_s,
            exhaust: tract(&self.exhaust),
            intake: tract(&self.intake),
            transfer: tract(&self.transfer),
            cylinder: self.cylinder.gather(lanes),
            crankcase: self.crankcase.gather(lanes),
            airbox: self.airbox.as_ref().map(|airbox| airbox.gather(lanes)),
            reed: self.reed,
            petals: lanes.map(|lane| self.petals[lane]),
            fires: lanes.map(|lane| self.fires[lane]),
            zones: self.zones.gather(lanes),
            scavenging: self.scavenging,
            flows: lanes.map(|lane| self.flows[lane]),
            since_renewal: self.since_renewal,
            was_open: lanes.map(|lane| self.was_open[lane]),
            throttled: self.throttled,
            inlet_most_m2: self.inlet_most_m2,
        }
    }

    /// Every duct.
    pub(crate) fn runs(&self) -> impl Iterator<Item = &Run<L>> {
        self.exhaust.iter().chain(&self.intake).chain(&self.transfer)
    }

    /// Every duct, to be changed.
    pub(crate) fn runs_mut(&mut self) -> impl Iterator<Item = &mut Run<L>> {
        self.exhaust.iter_mut().chain(&mut self.intake).chain(&mut self.transfer)
    }

    /// Ducts of one tract.
    pub(crate) fn tract(&self, tract: Tract) -> &[Run<L>] {
        match tract {
            Tract::Exhaust => &self.exhaust,
            Tract::Intake => &self.intake,
            Tract::Transfer => &self.transfer,
        }
    }

    /// Shortest cell of a tract, m.
    pub(crate) fn shortest_m(&self, tract: Tract) -> f64 {
        let runs = self.tract(tract).iter();
        runs.map(|run| run.duct.geometry().shortest_m()).fold(f64::INFINITY, f64::min)
    }

    /// Number of cells.
    pub(crate) fn cells(&self) -> usize {
        self.runs().map(|run| run.duct.geometry().cells()).sum()
    }

    /// Vessels in the order in which they are kept.
    pub(crate) fn vessels(&self) -> impl Iterator<Item = &Contents<L>> {
        [&self.cylinder, &self.crankcase].into_iter().chain(&self.airbox)
    }

    /// What the engine holds in one lane.
    pub(crate) fn holding(&self, lane: usize) -> Holding {
        let mut sum = Holding::default();
        let mut add = |mass_kg: f64, energy_j: f64, species_kg: [f64; 2]| {
            sum.mass_kg += mass_kg;
            sum.energy_j += energy_j;
            sum.species_kg[0] += species_kg[0];
            sum.species_kg[1] += species_kg[1];
        };
        for run in self.runs() {
            let content = run.duct.content(lane);
            add(content.mass_kg, content.energy_j, content.species_kg);
        }
        for vessel in self.vessels() {
            add(vessel.mass_kg(lane), vessel.energy_j(lane), vessel.species_kg(lane));
        }
        sum
    }

    /// Works out pressures and temperatures as they stand.
    pub(crate) fn look(&mut self) {
        let (gas, set) = (&self.model.caloric, self.set);
        for run in self.runs_mut() {
            run.duct.prepare(gas, set);
        }
    }

    /// Pressure, temperature and burned share of every cell and vessel in one lane.
    pub(crate) fn remembered(&self, lane: usize) -> Vec<[f64; 3]> {
        let gas = &self.model.caloric;
        let of = |state: GasState| [state.pressure_pa, state.temperature_k, state.y[1]];
        let mut all = Vec::with_capacity(self.cells() + 3);
        for run in self.runs() {
            all.extend((0..run.duct.geometry().cells()).filter_map(|cell| run.duct.gas(cell, lane)).map(of));
        }
        all.extend(self.vessels().map(|vessel| of(vessel.gas(gas, lane))));
        all
    }

    /// Share of a cell that the fastest wave of one lane crosses in a step; infinite when its state is broken.
    pub(crate) fn crossed(&self, lane: usize, step_s: f64) -> f64 {
        self.runs().map(|run| run.duct.fastest_per_s(lane) * step_s).fold(0.0, f64::max)
    }

    /// Fills one lane with calm gas, so that it does not disturb the others.
    pub(crate) fn calm(&mut self, lane: usize) {
        let (gas, fresh) = (&self.model.caloric, self.model.fresh);
        for run in self.runs_mut() {
            run.duct.refill(gas, lane, |_| fresh);
        }
        for vessel in [&mut self.cylinder, &mut self.crankcase].into_iter().chain(&mut self.airbox) {
            vessel.refill(gas, lane, &fresh);
        }
        self.petals[lane] = ReedState::default();
        self.fires[lane] = None;
    }
}

/// Fresh gas with a share of burned gas.
pub(crate) fn mixed(fresh: &GasState, burned: f64) -> GasState {
    GasState { y: [fresh.y[0] * (1.0 - burned), burned], ..*fresh }
}

fn throat_share(throttle: &Throttle, opening: f64) -> Result<f64, ModelError> {
    if (0.01..=1.0).contains(&opening) {
        return Ok(throttle.open_share(opening));
    }
    Err(ModelError::OutOfRange {
        what: "throttle opening",
        value: format!("{opening:.3}"),
        mend: "give 0.01 (a hundredth open) to 1 (wide open)",
    })
}

/// Pieces that follow smoothly make one duct, unless they are `parted`; where the diameter steps a new one begins.
fn ducts<const L: usize>(
    model: &Model,
    settings: &Settings,
    tract: Tract,
    parted: bool,
) -> Result<Vec<Run<L>>, ModelError> {
    let pieces: &[Piece] = match tract {
        Tract::Exhaust => &model.pipe,
        Tract::Intake => &model.intake.pieces,
        Tract::Transfer => std::slice::from_ref(&model.transfer),
    };
    let whole_m: f64 = pieces.iter().map(|piece| piece.section.length_m).sum();
    let (mut runs, mut from_m, mut first) = (Vec::new(), 0.0, 0);
    for at in 1..=pieces.len() {
        let smooth = !parted
            && at < pieces.len()
            && (pieces[at - 1].section.end_m / pieces[at].section.begin_m - 1.0).abs() < 1e-6;
        if smooth {
            continue;
        }
        let own = &pieces[first..at];
        let cell_m = settings.cell_length_m;
        let cut = match tract {
            Tract::Transfer => geometry_towards_port(&own[0].section, cell_m),
            Tract::Intake => geometry(own, Settings::INTAKE_SHARE * cell_m),
            Tract::Exhaust => geometry(own, cell_m),
        };
        let geometry = cut.map_err(|cause| ModelError::Duct {
            tract: match tract {
                Tract::Exhaust => "The exhaust pipe",
                Tract::Intake => "The intake",
                Tract::Transfer => "The transfer ducts",
            },
            cause,
        })?;
        let length_m = geometry.length_m();
        let walls = Walls::of(&geometry, own);
        let mut duct =
            Duct::new(geometry, &model.caloric, |_, x_m| start(model, tract, (from_m + x_m) / whole_m));
        walls.stand(&mut duct);
        runs.push(Run { duct, walls, from_m });
        from_m += length_m;
        first = at;
    }
    Ok(runs)
}

fn geometry(pieces: &[Piece], cell_m: f64) -> Result<Geometry, ShapeError> {
    let sections: Vec<Section> = pieces.iter().map(|piece| piece.section).collect();
    let length_m: f64 = sections.iter().map(|section| section.length_m).sum();
    // A stub between two steps still needs two cells.
    Geometry::from_sections(&sections, if length_m.is_finite() { cell_m.min(0.5 * length_m) } else { cell_m })
}

/// A duct whose cells get shorter towards its end: what is blown back into a transfer gets no further than its last cells,
/// and mixes within each.
fn geometry_towards_port(section: &Section, cell_m: f64) -> Result<Geometry, ShapeError> {
    let Section { length_m, begin_m, end_m } = *section;
    let (mut lengths_m, mut sum_m, mut next_m) = (Vec::new(), 0.0, Settings::PORT_SHARE * cell_m);
    while sum_m < length_m && sum_m.is_finite() || lengths_m.len() < 2 {
        lengths_m.push(next_m);
        sum_m += next_m;
        next_m = (Settings::PORT_GROWTH * next_m).min(Settings::TRANSFER_SHARE * cell_m);
    }
    let area_m2 = |from_begin_m: f64| {
        let diameter_m = begin_m + (end_m - begin_m) * from_begin_m / length_m;
        PI / 4.0 * diameter_m * diameter_m
    };
    let (mut cells, mut at_m) = (Vec::new(), 0.0);
    for own_m in lengths_m.iter().rev().map(|own_m| own_m * length_m / sum_m) {
        cells.push((own_m, area_m2(at_m), area_m2(at_m + own_m), 0));
        at_m += own_m;
    }
    Geometry::from_areas(&cells)
}

fn start(model: &Model, tract: Tract, share: f64) -> GasState {
    match tract {
        Tract::Intake | Tract::Transfer => model.fresh,
        Tract::Exhaust => {
            let temperature_k = PIPE_BEGIN_K + share * (PIPE_END_K - PIPE_BEGIN_K);
            GasState { temperature_k, ..mixed(&model.fresh, 0.9) }
        }
    }
}
