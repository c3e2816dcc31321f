//! Cautions that stand where the work is described.
//!
//! Carbon monoxide: joint alert by NIOSH, OSHA, CPSC and EPA (1996), "Preventing carbon monoxide poisoning from small
//! gasoline-powered engines and tools": opening doors and running fans does not make an indoor engine safe.
//! The others are common practice, no source.

use crate::report::Caution;

/// Every caution of setting the valve and of proving it on the running engine.
pub fn all() -> Vec<Caution> {
    [
        (
            "Pinch and spring",
            "Ignition off and battery disconnected before fingers go near pulley, blade or cables. The return spring \
             snaps the valve shut: keep fingers out of the port and off the pulley. Wear eye protection.",
        ),
        (
            "Battery and polarity",
            "Connect the battery only to drive the servo through its travel. If the motor is driven from an outside \
             supply: unplug it from the controller, motor pins only, fused lead, right polarity, short pulses; never \
             put supply voltage on the sensor pins. No spark near a battery that was just charged.",
        ),
        (
            "Fuel",
            "Petrol vapour ignites a long way off. Tank off: cap the lines, carry it out of the room, no naked flame, \
             no jumper sparks. Keep an extinguisher at hand.",
        ),
        ("Hot parts", "Let pipe and cylinder cool before touching them. Nothing that burns goes near them."),
        (
            "Running engine",
            "Exhaust gas kills: carbon monoxide reaches a deadly level within minutes, and open doors or a fan do not \
             make it safe. Run the engine outdoors or on an exhaust extraction with a carbon monoxide alarm. Stop at \
             a headache or dizziness, get into fresh air, get medical help. Stand clear of chain, wheel and pulleys.",
        ),
        (
            "Never force the valve",
            "Do not force blade or pulley past its stop: the piston may meet the blade. Turn the crank by hand \
             through a full turn with the valve closed and with it open before any start.",
        ),
        (
            "Maker's manual first",
            "The maker's service manual, local rules and licensed practice go before every figure printed here. Where \
             they differ, follow them.",
        ),
    ]
    .into_iter()
    .map(|(title, text)| Caution { title: title.to_owned(), text: text.to_owned() })
    .collect()
}
