//! What lies behind a part's panels, on the other side of the paper.

use crate::names::{Fault, PanelName, Role};
use crate::plan::{PanelPlan, PicturePlan, Plan, ShowThrough};
use crate::rules::{Behind, MOST_FACING, Problem};

/// What stands on a panel that lies behind one of a part's own, where it is none of these: what the plan pins to it, if no
/// part has it.
pub(super) fn of_no_part(plan: &Plan, panel: PanelName, own: &[PanelName]) -> Behind {
    if plan.parts.iter().any(|part| part.on.contains(&panel)) {
        return Behind {
            of: Some(panel).filter(|panel| !own.contains(panel)),
            ..Behind::default()
        };
    }
    let stands = |pin: &&PanelPlan| {
        let picture = pin.picture.as_deref().and_then(|name| plan.picture(name));
        let on = |picture: &PicturePlan| {
            let numbers = pin.panel.number..pin.panel.number + picture.spans;
            pin.panel.side == panel.side && numbers.contains(&panel.number)
        };
        picture.is_some_and(|picture| picture.heavy && on(picture))
    };
    Behind {
        of: None,
        heavy: plan.panels.iter().any(|pin| stands(&pin)),
        words: plan
            .pin(panel)
            .and_then(|pin| pin.role)
            .is_some_and(Role::has_words),
    }
}

/// Tells a heavy picture of a part that lies back to back with itself for more panels than are remembered.
pub(super) fn too_many_facing(problem: &Problem, plan: &Plan) -> Option<Fault> {
    let pairs = problem.panels.iter().enumerate();
    let pairs = pairs.filter(|(at, panel)| panel.behind.is_some_and(|other| other > *at));
    let mut heavy = problem.pictures.iter().filter(|picture| picture.heavy);
    let heavy = heavy.find_map(|picture| plan.picture(&picture.name))?;
    let many = pairs.count() > MOST_FACING && plan.rules.show_through == ShowThrough::Avoided;
    let what = format!(
        "`{}` is heavy, and of no more than {MOST_FACING} panels of a part is it seen what lies behind them",
        heavy.name
    );
    let fault = Fault::new("pictures", what).at(heavy.place.clone());
    many.then(|| fault.help("leave `heavy` out, or write `show-through = \"allowed\"`"))
}
