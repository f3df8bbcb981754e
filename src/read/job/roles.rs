//! What a material is asked for in a cell, and which categories can do it.

use std::sync::Arc;

use super::draft::Draft;
use super::materials::{SizeIn, add, look_up, plain};
use super::reading::Reading;
use super::resolve::{Found, unknown_hint};
use crate::model::library::folded;
use crate::model::material::{Category, MaterialId};

/// The part that a material plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// Boards, posts, caps and braces.
    Lumber,
    /// Screws and bolts.
    Fastener,
    /// Liner of the walls.
    Liner,
    /// Mesh below the bed.
    Mesh,
    /// Oil or stain.
    Finish,
    /// Panels of walls.
    Panel,
    /// Trims of corners.
    Trim,
    /// Boards or a trim on the rim.
    Rim,
    /// Blocks, halves and caps.
    Block,
    /// Reinforcing bars.
    Bar,
    /// Stone of a wall or its cap.
    Stone,
    /// Small stone in the heart of a wall.
    Hearting,
    /// Gravel below a wall, mortar in it.
    Aggregate,
    /// A bed bought whole.
    ReadyMade,
    /// A layer of a fill.
    Layer,
    /// A part of a mix, and what else is measured by volume: base, mortar, filling of cells.
    Part,
    /// Worked into the top.
    Amendment,
    /// Spread on a path.
    Surface,
    /// Fabric below a path.
    Under,
    /// Held along the edge of a path.
    Edging,
}

impl Role {
    fn takes(self, category: Category) -> bool {
        match self {
            Self::Lumber => category == Category::Lumber,
            Self::Fastener => category == Category::Fastener,
            Self::Liner => matches!(category, Category::Liner | Category::Sheet),
            Self::Mesh => matches!(category, Category::Mesh | Category::Sheet),
            Self::Finish => category == Category::Finish,
            Self::Panel => category == Category::Panel,
            Self::Trim => category == Category::Trim,
            Self::Rim => matches!(category, Category::Lumber | Category::Trim),
            Self::Block => category == Category::Block,
            Self::Bar => category == Category::Bar,
            Self::Stone => category == Category::Stone,
            Self::Hearting => matches!(category, Category::Stone | Category::Aggregate),
            Self::Aggregate => category == Category::Aggregate,
            Self::ReadyMade => category == Category::ReadyMade,
            Self::Layer => category.is_fill() || category == Category::Sheet,
            Self::Part | Self::Surface => category.is_fill(),
            Self::Under => matches!(category, Category::Sheet | Category::Liner),
            Self::Edging => matches!(category, Category::Lumber | Category::Other),
            Self::Amendment => category.is_fill() || category == Category::Amendment,
        }
    }

    /// The category of a name that is not in the library but for sale, where the column tells it.
    fn told_by_column(self) -> Option<Category> {
        match self {
            Self::Fastener => Some(Category::Fastener),
            Self::Liner => Some(Category::Liner),
            Self::Mesh => Some(Category::Mesh),
            Self::Finish => Some(Category::Finish),
            Self::Panel => Some(Category::Panel),
            Self::Trim => Some(Category::Trim),
            Self::Bar => Some(Category::Bar),
            Self::ReadyMade => Some(Category::ReadyMade),
            Self::Stone | Self::Hearting => Some(Category::Stone),
            Self::Under => Some(Category::Sheet),
            Self::Edging => Some(Category::Other),
            Self::Surface
            | Self::Lumber
            | Self::Rim
            | Self::Block
            | Self::Aggregate
            | Self::Layer
            | Self::Part
            | Self::Amendment => None,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Lumber => "lumber",
            Self::Fastener => "a fastener",
            Self::Liner => "a liner",
            Self::Mesh => "mesh",
            Self::Finish => "a finish",
            Self::Panel => "a panel",
            Self::Trim => "a trim",
            Self::Rim => "lumber or a trim",
            Self::Block => "a block",
            Self::Bar => "a reinforcing bar",
            Self::Stone => "stone",
            Self::Hearting => "stone or an aggregate",
            Self::Aggregate => "an aggregate",
            Self::ReadyMade => "a ready-made bed",
            Self::Layer => "a fill by volume, a sheet or a mix",
            Self::Part => "a fill by volume",
            Self::Surface => "a mulch, an aggregate or another fill by volume",
            Self::Under => "fabric or another sheet",
            Self::Edging => "lumber or edging (category other)",
            Self::Amendment => "an amendment or a fill by volume",
        }
    }
}

/// The material that a cell names for a role; `None` for an empty cell and after a problem.
pub(super) fn material_for(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    role: Role,
) -> Option<MaterialId> {
    let name = reading.text(field)?;
    let size = match role {
        Role::Lumber | Role::Edging | Role::Rim => SizeIn::Lumber,
        Role::Block => SizeIn::Block,
        _ => SizeIn::Nothing,
    };
    let place = match look_up(draft, &name, size) {
        Found::Is(place) => place,
        Found::Broken => return None,
        Found::Unknown => unknown(draft, reading, field, role, &name)?,
    };
    let material = draft.materials.get(place)?;
    let category = material.category;
    let has_section = material.section.is_some();
    let has_size = material.block.is_some();
    if !role.takes(category) {
        let sentence = format!("{field} must be {}, not {}", role.words(), category.word());
        let hint = "name another material, or give this one its Category in Materials";
        reading.complain(field, sentence, hint);
        return None;
    }
    if role.takes(Category::Lumber) && category == Category::Lumber && !has_section {
        let hint = "give it a Section in Materials, as 2x10 or 1.5 x 9.25 in";
        reading.complain(field, format!("{field} has no known section"), hint);
        return None;
    }
    if role == Role::Block && !has_size {
        let hint = "give it a Section in Materials, as 8x8x16, or its true size with the height in the middle";
        reading.complain(field, format!("{field} has no known size"), hint);
        return None;
    }
    draft.used.insert(place);
    Some(MaterialId::of(place))
}

fn unknown(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    role: Role,
    name: &Arc<str>,
) -> Option<usize> {
    if let Some(category) = role.told_by_column()
        && draft.priced.contains(&folded(name))
    {
        let said = format!("\"{name}\" is taken as {} from its column", role.words());
        reading.notice(field, said);
        return Some(add(draft, plain(Arc::clone(name), category)));
    }
    let hint = unknown_material_hint(draft, name);
    reading.complain(field, format!("{field} is not a known material"), &hint);
    draft.material_names.add_broken(name);
    None
}

/// The nearest name of the job or of the library, and what to do otherwise.
pub(super) fn unknown_material_hint(draft: &Draft<'_>, name: &str) -> String {
    let library = draft.library.materials.iter();
    let library =
        library.flat_map(|m| std::iter::once(&*m.name).chain(m.also.iter().map(|a| &**a)));
    let job = draft.materials.iter().map(|m| &*m.name);
    let otherwise = "add a row for it to Materials with its Category";
    unknown_hint(name, job.chain(library), otherwise)
}
