//! Parts received.

use crate::entry::{Form, PartEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use job::Event;
use job::event::PartReceived;

impl Workshop {
    /// Keeps a received part with its receipt.
    ///
    /// # Errors
    /// Nothing approved, no finding, no photo, an amount that can't be read or is below zero.
    pub fn part_receive(&self, form: impl Into<Form>, entry: &PartEntry) -> Result<JobView, ApiError> {
        let home = self.marks();
        let event = Event::PartReceived(PartReceived {
            supplier: typed::required("supplier", &entry.supplier)?,
            part_number: typed::required("part_number", &entry.part_number)?,
            description: typed::required("description", &entry.description)?,
            condition: entry.condition,
            price: typed::price(&entry.price, home)?,
            core_charge: typed::price_or_nothing(&entry.core_charge, home)?,
            return_terms: typed::text("return_terms", &entry.return_terms)?,
            warranty: typed::text("warranty", &entry.warranty)?,
            photos: typed::photos(&entry.photos)?,
            module: typed::text("module", &entry.module)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }
}
