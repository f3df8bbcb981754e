//! The sheets that a job file may hold.

/// The sheet of a marked copy that lists what is wrong; no sheet of a job.
pub const PROBLEMS: &str = "Problems";
/// The defined name by which a marked copy of a job is known.
pub const MARKED_NAME: &str = "loamwright_marked";

/// A sheet of the job file, by meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sheet {
    /// Settings of the whole job.
    Job,
    /// Places with their own access, haul and tax.
    Sites,
    /// Who sells.
    Suppliers,
    /// The beds.
    Beds,
    /// Paths and surrounds.
    Areas,
    /// How walls are built.
    Frames,
    /// Layer stacks.
    Fills,
    /// Recipes by volume.
    Mixes,
    /// Additions by rate.
    Amendments,
    /// Overrides of the trade library.
    Materials,
    /// What suppliers ask.
    Prices,
    /// Files of suppliers, and which columns of theirs hold what.
    PriceLists,
    /// What suppliers call the job's materials.
    SupplierNames,
    /// Vehicles and fees.
    Deliveries,
    /// Person-hours by task.
    Labour,
    /// Kinds of person.
    Workers,
    /// Machines for hire.
    Equipment,
    /// Drip lines.
    Irrigation,
    /// Extra lengths to cut.
    Pieces,
    /// Everything else that costs.
    Extras,
    /// Priced variations.
    Alternates,
    /// Stages of payment.
    Payments,
    /// Grants.
    Funding,
    /// Which class of a budget lines stand under.
    BudgetClasses,
    /// What really happened.
    Actuals,
}

impl Sheet {
    /// Every sheet, in the order in which a job file shows them.
    pub const ALL: [Self; 25] = [
        Self::Job,
        Self::Sites,
        Self::Suppliers,
        Self::Beds,
        Self::Areas,
        Self::Frames,
        Self::Fills,
        Self::Mixes,
        Self::Amendments,
        Self::Materials,
        Self::Prices,
        Self::PriceLists,
        Self::SupplierNames,
        Self::Deliveries,
        Self::Labour,
        Self::Workers,
        Self::Equipment,
        Self::Irrigation,
        Self::Pieces,
        Self::Extras,
        Self::Alternates,
        Self::Payments,
        Self::Funding,
        Self::BudgetClasses,
        Self::Actuals,
    ];

    /// The sheet's title.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Job => "Job",
            Self::Sites => "Sites",
            Self::Suppliers => "Suppliers",
            Self::Beds => "Beds",
            Self::Areas => "Areas",
            Self::Frames => "Frames",
            Self::Fills => "Fills",
            Self::Mixes => "Mixes",
            Self::Amendments => "Amendments",
            Self::Materials => "Materials",
            Self::Prices => "Prices",
            Self::PriceLists => "Price lists",
            Self::SupplierNames => "Supplier names",
            Self::Deliveries => "Deliveries",
            Self::Labour => "Labour",
            Self::Workers => "Workers",
            Self::Equipment => "Equipment",
            Self::Irrigation => "Irrigation",
            Self::Pieces => "Pieces",
            Self::Extras => "Extras",
            Self::Alternates => "Alternates",
            Self::Payments => "Payments",
            Self::Funding => "Funding",
            Self::BudgetClasses => "Budget classes",
            Self::Actuals => "Actuals",
        }
    }

    /// The column that names a row of a sheet.
    pub const fn naming_column(self) -> &'static str {
        match self {
            Self::Job => "Setting",
            Self::Sites => "Site",
            Self::Suppliers => "Supplier",
            Self::Beds | Self::Irrigation => "Bed",
            Self::Areas => "Area",
            Self::Frames => "Frame",
            Self::Fills | Self::Amendments => "Fill",
            Self::Mixes => "Mix",
            Self::Materials | Self::Prices | Self::Pieces => "Material",
            Self::PriceLists => "File",
            Self::SupplierNames => "Their name",
            Self::Deliveries => "Vehicle",
            Self::Labour => "Task",
            Self::Workers => "Worker",
            Self::Equipment | Self::Extras => "Item",
            Self::Alternates => "Alternate",
            Self::Payments => "Stage",
            Self::Funding => "Funder",
            Self::BudgetClasses => "Line",
            Self::Actuals => "Order line or task or bed",
        }
    }
}
