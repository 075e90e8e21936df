//! Keys in services that name nothing, each with the one that was probably meant.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Edit, Form, Good, Keyed, Node, Place, Plan, Service};

use crate::finding::{Finding, Fix};
use crate::likely::likely;

/// Every key in the services that names nothing, or a good of another sort.
pub(super) fn unknown(plan: &Plan) -> Vec<Finding> {
    let mut look = Look { plan, findings: Vec::new() };
    for (key, service) in &plan.services {
        let at = super::service_at(key, service);
        match service {
            Service::Pipe(run) => {
                look.good(&at.child("good"), key, &run.good, "pipe", |form| {
                    matches!(form, Form::Pipe { .. })
                });
                look.unit(&at.child("serves"), key, run.serves.as_ref());
                look.way(&at, key, &run.order, &run.nodes);
                look.fittings(&at, key, &run.fittings, &run.nodes);
                for (i, good) in run.with.iter().enumerate() {
                    look.any_good(&at.child("with").index(i), key, good);
                }
            }
            Service::Cable(run) => {
                look.good(&at.child("good"), key, &run.good, "cable", |form| {
                    matches!(form, Form::Cable { .. })
                });
                look.way(&at, key, &run.order, &run.nodes);
            }
            Service::Duct(run) => {
                look.good(&at.child("good"), key, &run.good, "duct", |form| {
                    matches!(form, Form::Duct { .. })
                });
                look.unit(&at.child("serves"), key, run.serves.as_ref());
                look.way(&at, key, &run.order, &run.nodes);
                look.fittings(&at, key, &run.fittings, &run.nodes);
            }
            Service::Box(outlet) => {
                look.place(&at.child("at"), key, &outlet.at);
                if let Some(good) = &outlet.good {
                    look.good(&at.child("good"), key, good, "box", |form| matches!(form, Form::Box { .. }));
                }
                for (i, good) in outlet.devices.iter().enumerate() {
                    let at = at.child("devices").index(i);
                    look.good(&at, key, good, "device", |form| matches!(form, Form::Device { .. }));
                }
                for (i, good) in outlet.with.iter().enumerate() {
                    look.any_good(&at.child("with").index(i), key, good);
                }
                look.unit(&at.child("serves"), key, outlet.serves.as_ref());
                look.unit(&at.child("through"), key, outlet.through.as_ref());
            }
        }
    }
    look.findings
}

struct Look<'p> {
    plan: &'p Plan,
    findings: Vec<Finding>,
}

impl Look<'_> {
    fn missing<'n>(
        &mut self,
        at: &Pointer,
        subject: &Key,
        asked: &Key,
        sort: &str,
        known: impl Iterator<Item = &'n str>,
    ) {
        let meant = likely(asked.as_str(), known);
        let guess = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
        let put = meant.map(|meant| Fix::of(Edit::set(self.plan, at, meant, format!("put `{meant}` there"))));
        let what = format!("`{subject}` names `{asked}`, and there is no {sort} of that key{guess}");
        let subjects = vec![subject.clone(), asked.clone()];
        let finding = Finding::unresolved("plan/names-nothing", subjects, at.clone(), what);
        self.findings.push(Finding { fixes: put.into_iter().collect(), ..finding });
    }

    fn unit(&mut self, at: &Pointer, subject: &Key, asked: Option<&Key>) {
        let Some(asked) = asked.filter(|asked| !self.plan.units.contains_key(*asked)) else { return };
        let plan = self.plan;
        self.missing(at, subject, asked, "unit", plan.units.keys().map(Key::as_str));
    }

    fn fittings(&mut self, at: &Pointer, subject: &Key, fittings: &Keyed<Key>, nodes: &Keyed<Node>) {
        for (node, good) in fittings {
            let at = at.child("fittings").child(node);
            self.node(&at, subject, node, nodes);
            self.any_good(&at, subject, good);
        }
    }

    fn any_good(&mut self, at: &Pointer, subject: &Key, asked: &Key) {
        let plan = self.plan;
        if !plan.goods.contains_key(asked) {
            self.missing(at, subject, asked, "good", plan.goods.keys().map(Key::as_str));
        }
    }

    fn good(&mut self, at: &Pointer, subject: &Key, asked: &Key, sort: &str, is: fn(&Form) -> bool) {
        let plan = self.plan;
        let suits = |(key, good): (&'_ Key, &Good)| is(&good.form).then(|| key.to_string());
        let known: Vec<String> = plan.goods.iter().filter_map(suits).collect();
        match plan.goods.get(asked) {
            None => self.missing(at, subject, asked, "good", known.iter().map(String::as_str)),
            Some(good) if !is(&good.form) => {
                let what = format!("`{subject}` is made of `{asked}`, {}, which is no {sort}", good.name);
                let subjects = vec![subject.clone(), asked.clone()];
                self.findings.push(Finding::unresolved("services/good", subjects, at.clone(), what));
            }
            Some(_) => {}
        }
    }

    fn place(&mut self, at: &Pointer, subject: &Key, place: &Place) {
        let plan = self.plan;
        if !plan.walls.contains_key(&place.wall) {
            let at = at.child("wall");
            self.missing(&at, subject, &place.wall, "wall", plan.walls.keys().map(Key::as_str));
        }
    }

    fn node(&mut self, at: &Pointer, subject: &Key, asked: &Key, nodes: &Keyed<Node>) {
        if !nodes.contains_key(asked) {
            self.missing(at, subject, asked, "node", nodes.keys().map(Key::as_str));
        }
    }

    fn way(&mut self, at: &Pointer, subject: &Key, order: &[Key], nodes: &Keyed<Node>) {
        let plan = self.plan;
        for (i, asked) in order.iter().enumerate() {
            self.node(&at.child("order").index(i), subject, asked, nodes);
        }
        for (key, node) in nodes {
            let at = at.child("nodes").child(key).child(node.word());
            match node {
                Node::At(place) | Node::Stub(place) | Node::Trap(place) | Node::Standpipe(place) => {
                    self.place(&at, subject, place);
                }
                Node::Joins { service, node } => {
                    let Some(other) = plan.services.get(service) else {
                        let known = plan.services.keys().map(Key::as_str);
                        self.missing(&at.child("service"), subject, service, "service", known);
                        continue;
                    };
                    let nodes = super::nodes(other);
                    if !nodes.contains_key(node) {
                        let known = nodes.keys().map(Key::as_str);
                        self.missing(&at.child("node"), subject, node, "node", known);
                    }
                }
                Node::Box(asked) => {
                    if !matches!(plan.services.get(asked), Some(Service::Box(_))) {
                        let boxes = plan.services.iter();
                        let boxes = boxes.filter(|(_, service)| matches!(service, Service::Box(_)));
                        let known: Vec<&str> = boxes.map(|(key, _)| key.as_str()).collect();
                        self.missing(&at, subject, asked, "box", known.into_iter());
                    }
                }
            }
        }
    }
}
