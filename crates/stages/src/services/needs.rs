//! What is to be bought for what is to be made: by length, and by piece.

use dryfit_measure::{Amount, Key};
use dryfit_plan::{Plan, Service};

use super::{Services, boxes};
use crate::figures::Figures;
use crate::need::Need;

/// The needs of everything that is not there yet.
pub(super) fn needs(plan: &Plan, services: &Services) -> Vec<Need> {
    let mut needs = Vec::new();
    let slack = Figures::of_handbook(plan).dim("cable-slack");
    for (key, service) in plan.services.iter().filter(|(_, service)| !service.is_found()) {
        let called = service.name().unwrap_or(key.as_str());
        let run = services.runs.iter().find(|run| run.key == *key);
        let mut piece = |good: &Key, count: u32, what: &str| {
            if count > 0 {
                needs.push(Need::pieces(good.clone(), count, what, key.as_str()));
            }
        };
        let plates = services.crossings.iter().filter(|crossing| crossing.run == *key && crossing.plate);
        let plates = u32::try_from(plates.count()).unwrap_or(u32::MAX);
        let mut length = None;
        match service {
            Service::Pipe(stated) => {
                stated.fittings.values().for_each(|good| piece(good, 1, called));
                stated.with.iter().for_each(|good| piece(good, 1, called));
                stated.plate.iter().for_each(|good| piece(good, plates, called));
                length = run.map(|run| (&stated.good, run.length.clone()));
            }
            Service::Cable(stated) => {
                stated.plate.iter().for_each(|good| piece(good, plates, called));
                let ends = boxes::entries(&stated.order, |node| {
                    matches!(stated.nodes.get(node), Some(dryfit_plan::Node::Box(_)))
                });
                let kept = &slack * i64::from(ends);
                length = run.map(|run| (&stated.good, &run.length + kept));
            }
            Service::Duct(stated) => {
                stated.fittings.values().for_each(|good| piece(good, 1, called));
                length = run.map(|run| (&stated.good, run.length.clone()));
            }
            Service::Box(stated) => {
                stated.good.iter().for_each(|good| piece(good, 1, called));
                stated.devices.iter().for_each(|good| piece(good, 1, called));
                stated.with.iter().for_each(|good| piece(good, 1, called));
            }
        }
        if let Some((good, length)) = length.filter(|(_, length)| length.length().is_positive()) {
            let amount = Amount::Length(length.length());
            needs.push(Need::of(good.clone(), amount, called, key.as_str()).because(vec![length]));
        }
    }
    needs
}
