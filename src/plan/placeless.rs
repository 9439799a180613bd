//! A plan apart from where its keys stand in its file: for asking whether two plans ask for the same.

use std::sync::{Arc, LazyLock};

use super::{
    AreaRequest, HeadingPlaces, MarginsRequest, PanelPlan, PartPlan, PicturePlan, Plan, TextStyle,
};
use crate::names::{Location, Source};

/// The place that all keys have here.
fn nowhere() -> Location {
    static NOWHERE: LazyLock<Arc<Source>> = LazyLock::new(|| Source::new("", ""));
    Location::new(&NOWHERE, 0..0)
}

impl Plan {
    /// The plan with every place the same.
    pub fn without_places(mut self) -> Plan {
        self.manuscript_place = None;
        self.text = self.text.without_places();
        self.pictures.iter_mut().for_each(forget_picture);
        self.parts.iter_mut().for_each(forget_part);
        self.panels.iter_mut().for_each(forget_panel);
        for picture in self.blank_before.iter_mut().chain(&mut self.reveal) {
            picture.place = nowhere();
        }
        for label in self.labels.iter_mut().chain(&mut self.author) {
            label.place = nowhere();
        }
        for crossover in &mut self.crossovers {
            crossover.place = nowhere();
        }
        self.sheets.place = None;
        if let Some(intent) = &mut self.sheets.intent {
            intent.place = nowhere();
        }
        self
    }
}

impl TextStyle {
    /// The style with every place the same.
    pub fn without_places(mut self) -> TextStyle {
        let named = std::iter::once(&mut self.typeface).chain(&mut self.fallback);
        named.for_each(|choice| choice.place = None);
        for heading in self.headings.all_mut() {
            heading.places = HeadingPlaces::default();
            if let Some(typeface) = &mut heading.typeface {
                typeface.place = None;
            }
        }
        self
    }
}

fn forget_picture(picture: &mut PicturePlan) {
    picture.place = nowhere();
    forget_shape(&mut picture.leaves, &mut picture.shape);
    if let Some(art) = &mut picture.art {
        art.place = nowhere();
    }
}

fn forget_part(part: &mut PartPlan) {
    part.place = None;
    part.margins_place = None;
    part.text = part.text.clone().without_places();
    if let Some(pairs) = &mut part.pairs {
        pairs.place = nowhere();
    }
}

fn forget_panel(panel: &mut PanelPlan) {
    panel.place = nowhere();
    forget_shape(&mut panel.margins, &mut panel.shape);
    if let Some(begins) = &mut panel.begins {
        begins.place = nowhere();
    }
}

fn forget_shape(margins: &mut MarginsRequest, shape: &mut Option<AreaRequest>) {
    margins.place = None;
    match shape {
        Some(AreaRequest::Boxes(boxes)) => boxes.iter_mut().for_each(|one| one.place = nowhere()),
        Some(AreaRequest::Mask { place, .. }) => *place = nowhere(),
        None => {}
    }
}
