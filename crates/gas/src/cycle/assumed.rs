//! What a result rests on that neither the engine file nor a law of physics gives.

use super::model::Model;
use super::settings::{ReedChoice, ScavengingChoice, Settings};
use crate::reed::Reed;

impl Model {
    /// What was assumed for figures that the file does not give and by the choices of a run, a sentence each.
    pub fn assumptions(&self, settings: &Settings) -> Vec<String> {
        let mut said = self.assumptions.clone();
        said.extend(self.petals(settings.reed));
        said.push(scavenging(&settings.scavenging).to_owned());
        let estimates = [
            "Discharge coefficients of ports and reed block: 0.65 to 0.9 by opening and direction (estimates).",
            "Burning: 50° of crank from start to end at 10,000 rpm, growing with speed and residual gas (estimate).",
            "Fuel is vapour from the mouth on; neither its cooling nor the crankcase's warmth is counted.",
            "Smooth walls in all ducts.",
        ];
        said.extend(estimates.map(str::to_owned));
        let leak_mm2 = settings.leak_m2 * 1e6;
        said.push(format!(
            "The gap past a blade that is not fully open leaks like {leak_mm2:.1} mm² (estimate)."
        ));
        if self.engine.cylinders > 1 {
            said.push(format!(
                "Each of the {} cylinders has a pipe, an intake and a crankcase of its own.",
                self.engine.cylinders
            ));
        }
        said
    }

    fn petals(&self, choice: ReedChoice) -> Option<String> {
        let frequency_hz = Reed::of(self.reed.as_ref()?, choice.motion()).petal.frequency_hz();
        Some(match choice {
            ReedChoice::QuasiSteady => format!(
                "Reed petals (first frequency {frequency_hz:.0} Hz) follow the pressure at once; petals that swing let in up to a quarter \
                 less in the invented demo engine."
            ),
            ReedChoice::Swinging => format!(
                "Reed petals swing with their first frequency ({frequency_hz:.0} Hz); a tenth of critical damping (estimate)."
            ),
        })
    }
}

fn scavenging(choice: &ScavengingChoice) -> &'static str {
    match choice {
        ScavengingChoice::LoopEstimate => {
            "Scavenging: the curve of a good loop-scavenged cylinder (estimate)."
        }
        ScavengingChoice::PerfectDisplacement => {
            "Scavenging: nothing fresh leaves before all burned gas has, the upper bound."
        }
        ScavengingChoice::PerfectMixing => {
            "Scavenging: what leaves the cylinder is what is in it, mixed perfectly."
        }
        ScavengingChoice::Model(_) => "Scavenging: a model of one's own.",
    }
}
