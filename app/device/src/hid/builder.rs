//! A device put together field by field, within the caps. Both ways of reading end here.

use super::{
    Collection, DescriptorFault, Field, HidDevice, MOST_COLLECTIONS, MOST_DEVICE_BITS,
    MOST_FIELD_BITS, MOST_FIELDS, MOST_REMARKS, MOST_REPORT_BITS, MOST_REPORTS, MOST_VALUE_BITS,
    Remark, RemarkKind, Report, ReportKind,
};

/// A device under way.
#[derive(Default)]
pub(super) struct Builder {
    device: HidDevice,
    fields: usize,
    bits: u32,
}

impl Builder {
    pub(super) fn remark(&mut self, at: usize, what: RemarkKind) {
        if self.device.remarks.len() < MOST_REMARKS {
            self.device.remarks.push(Remark { at, what });
        }
    }

    /// Adds a collection; its place.
    pub(super) fn collection(&mut self, collection: Collection) -> Result<usize, DescriptorFault> {
        let place = self.device.collections.len();
        if place == MOST_COLLECTIONS {
            return Err(DescriptorFault::TooManyCollections);
        }
        self.device.collections.push(collection);
        Ok(place)
    }

    /// Adds a field behind the last one of its report; its offset is set here.
    pub(super) fn field(
        &mut self,
        at: usize,
        kind: ReportKind,
        id: u8,
        mut field: Field,
    ) -> Result<(), DescriptorFault> {
        let bits = u64::from(field.element_bits) * u64::from(field.count);
        if bits == 0 {
            self.remark(at, RemarkKind::EmptyField);
            return Ok(());
        }
        if self.fields == MOST_FIELDS {
            return Err(DescriptorFault::TooManyFields);
        }
        let report = self.report(kind, id)?;
        let free = u64::from(MOST_REPORT_BITS - report.bits);
        if bits > free.min(u64::from(MOST_DEVICE_BITS - self.bits)) {
            return Err(DescriptorFault::ReportTooLong);
        }
        if !field.flags.constant() {
            if field.element_bits > MOST_FIELD_BITS {
                return Err(DescriptorFault::FieldTooWide);
            }
            if field.element_bits > MOST_VALUE_BITS {
                self.remark(at, RemarkKind::WideField);
            }
            if field.logical.min > field.logical.max {
                self.remark(at, RemarkKind::NoRange);
            }
            if field.collection.is_none() {
                self.remark(at, RemarkKind::OutsideCollections);
            }
        }
        // Checked above: it fits.
        let bits = bits as u32;
        self.fields += 1;
        self.bits += bits;
        let report = self.report(kind, id)?;
        field.bit_offset = report.bits;
        report.bits += bits;
        report.fields.push(field);
        Ok(())
    }

    fn report(&mut self, kind: ReportKind, id: u8) -> Result<&mut Report, DescriptorFault> {
        let reports = &mut self.device.reports;
        let place = reports.iter().position(|report| report.kind == kind && report.id == id);
        let place = place.unwrap_or(reports.len());
        if place == MOST_REPORTS {
            return Err(DescriptorFault::TooManyReports);
        }
        if place == reports.len() {
            reports.push(Report { kind, id, bits: 0, fields: Vec::new() });
        }
        reports.get_mut(place).ok_or(DescriptorFault::TooManyReports)
    }

    /// The device, with its controls listed.
    pub(super) fn finish(mut self) -> Result<HidDevice, DescriptorFault> {
        if self.device.reports.is_empty() {
            return Err(DescriptorFault::NoReport);
        }
        if self.device.numbered() && self.device.reports.iter().any(|report| report.id == 0) {
            self.remark(0, RemarkKind::NumbersMixed);
        }
        if self.device.list_controls() {
            self.remark(0, RemarkKind::NotAllListed);
        }
        Ok(self.device)
    }
}
