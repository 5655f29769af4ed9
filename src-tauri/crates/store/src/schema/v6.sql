-- Schema 6: papers that are numbered through the whole shop are counted without reading every record.
CREATE INDEX records_of_invoices     ON records (record) WHERE kind = 'invoice_kept';
CREATE INDEX records_of_credit_notes ON records (record) WHERE kind = 'credit_note_kept';
