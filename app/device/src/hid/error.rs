//! Why a descriptor is refused, and what is odd in one that is not.

/// Why a descriptor cannot be read, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DescriptorError {
    /// The place of the item that is wrong, bytes from the start. Of something that was left open,
    /// the length of the descriptor.
    pub at: usize,
    /// What is wrong with it.
    pub what: DescriptorFault,
}

/// What is wrong with a descriptor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DescriptorFault {
    /// There is not one byte.
    Empty,
    /// It has more than [`super::MOST_DESCRIPTOR_BYTES`].
    TooLong,
    /// It ends within an item.
    CutShort,
    /// It declares no report at all.
    NoReport,
    /// A collection is closed and none is open.
    NothingToClose,
    /// A collection is never closed.
    NeverClosed,
    /// More than [`super::MOST_DEPTH`] collections are open at once.
    TooDeep,
    /// More than [`super::MOST_COLLECTIONS`] collections.
    TooManyCollections,
    /// A state is popped and none was pushed.
    NothingToPop,
    /// More than [`super::MOST_PUSHED`] states are pushed at once.
    TooManyPushed,
    /// A report number of 0, which is reserved.
    ReportNumberZero,
    /// A report number above 255: it must fit one byte.
    ReportNumberTooLarge,
    /// More than [`super::MOST_REPORTS`] reports.
    TooManyReports,
    /// More than [`super::MOST_FIELDS`] fields.
    TooManyFields,
    /// A field wider than [`super::MOST_FIELD_BITS`] that is no padding.
    FieldTooWide,
    /// A report of more than [`super::MOST_REPORT_BITS`], or all of them together of more than
    /// [`super::MOST_DEVICE_BITS`].
    ReportTooLong,
    /// A usage page above 0xFFFF.
    PageTooLarge,
    /// A range of usages ends before it begins.
    RangeBackwards,
    /// A range of usages begins on one page and ends on another.
    RangeAcrossPages,
    /// A set of alternative usages is opened within another.
    AlternativesInAlternatives,
    /// A set of alternative usages is closed and none is open.
    NoAlternativesOpen,
    /// A set of alternative usages is still open where a field or collection begins.
    AlternativesLeftOpen,
}

/// Something odd in a descriptor that does no harm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The place of the item, bytes from the start; 0 where there were no bytes.
    pub at: usize,
    /// What is odd.
    pub what: RemarkKind,
}

/// What may be odd in a descriptor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RemarkKind {
    /// A long item: none is defined, it was passed over.
    LongItem,
    /// An item of a kind that the standard reserves, passed over.
    ReservedItem,
    /// A field of no bits or no elements, passed over.
    EmptyField,
    /// Alternative usages: the first, preferred one is kept.
    Alternatives,
    /// A field wider than [`super::MOST_VALUE_BITS`]: placed, but not read as a value.
    WideField,
    /// A field whose least value is above its greatest.
    NoRange,
    /// A field outside every collection.
    OutsideCollections,
    /// A report without number beside numbered ones.
    NumbersMixed,
    /// A range of usages with only one end, passed over.
    HalfRange,
    /// A state was pushed and never popped.
    NeverPopped,
    /// More axes, hats or buttons than are listed ([`super::MOST_LISTED`]).
    NotAllListed,
    /// A greatest value below 0 with a least one of 0 or more, taken without its sign.
    SignDropped,
    /// A collection said to hold items that its inner collections hold, in another order, so that
    /// places in the report are not certain.
    OrderUncertain,
}
