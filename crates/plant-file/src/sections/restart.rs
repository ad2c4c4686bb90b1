//! `restart` of `[pumping]`, and the starts that motors, drives and changeover may make.

use daylift_plant::{DayHours, Restart, StartLimits};
use daylift_units::fields::pumping;
use daylift_units::{Fault, Field};

use crate::outline::{DriveFile, MotorFile, PlantKeys, RestartKeys, RestartWord};
use crate::read::{ALLOWED_WINDOWS, Part, Placed, Section};

/// How mains starters close again; the whole section may be left out. The default is then listed only if the plant `uses`
/// it.
pub(crate) fn read(root: &Placed<PlantKeys>, is_used: bool) -> Option<Restart> {
    match &root.keys.pumping {
        Part::There(placed) => of_keys(&placed.at, placed.keys.restart.as_ref()?),
        Part::Faulty => None,
        Part::Absent => {
            if is_used {
                root.at.by_default("pumping.restart", RestartKeys::LISTED, RestartKeys::SOURCE);
            }
            Some(Restart::Automatic)
        }
    }
}

fn of_keys(at: &Section, keys: &RestartKeys) -> Option<Restart> {
    if keys.restart == Some(RestartWord::ByHand) {
        return by_hand(at, keys);
    }
    let given = [
        (&pumping::RESTART_HOURS, keys.attended_hours.is_some()),
        (&pumping::RESTART_DELAY, keys.delay_s.given().is_some()),
    ];
    let mut fits = true;
    for (field, _) in given.iter().filter(|(_, is_given)| *is_given) {
        at.fault(only_by_hand(field, keys.restart.is_some()));
        fits = false;
    }
    fits.then_some(Restart::Automatic)
}

fn by_hand(at: &Section, keys: &RestartKeys) -> Option<Restart> {
    let delay_s = keys.delay_s.value(at);
    let attended: Option<DayHours> = keys.attended_hours;
    if attended.is_none() {
        let field = &pumping::RESTART_HOURS;
        at.missing(field.key, field.quantity, ALLOWED_WINDOWS);
    }
    Some(Restart::ByHand {
        attended: attended?,
        delay_s,
    })
}

/// The fault of a key that needs restart by hand.
fn only_by_hand(field: &Field, restart_is_given: bool) -> Fault {
    let given = if restart_is_given {
        "together with restart = \"automatic\""
    } else {
        "without `restart`, which is then \"automatic\""
    };
    Fault::new(
        field.key,
        field.quantity,
        format!("`{}` {given}", field.key),
        "only with restart = \"by-hand\"",
        "remove it, or set restart = \"by-hand\"",
    )
}

/// The starts that a motor and a drive may make, as their files give them.
pub(crate) fn limits(motor: Option<&Placed<MotorFile>>, drive: Option<&Placed<DriveFile>>) -> StartLimits {
    let motor = motor.and_then(|file| file.keys.as_ref());
    StartLimits {
        motor_per_day: motor.and_then(|keys| keys.starts_per_day),
        motor_gap_s: motor.and_then(|keys| keys.gap_s),
        power_ups_per_day: drive.and_then(|file| file.keys.limits.power_ups_per_day.flatten()),
    }
}
