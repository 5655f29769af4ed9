### One line for each kind of record, for the command line.

line_approval_kept = Versión { $version } aprobada, hasta { $total } ({ $channel })
line_caution_acknowledged = Precaución leída: { $caution }
line_circuit_chosen = Circuito elegido: { $circuit }
line_estimate_kept = Presupuesto versión { $version }: { $total }
line_finding_kept = Hallazgo: { $outcome } { $cause }
line_fix_proven = Reparación probada: { $before } antes, { $after } después
line_handed_over = Vehículo entregado
line_intake_kept = Recepción guardada: { $fields }
line_invoice_kept = Factura { $name }: { $total }
line_job_opened = Trabajo { $number } abierto
line_meter_chosen = Medidor elegido: { $name }
line_part_received = Pieza recibida: { $name }, { $total }
line_photo_kept = Foto guardada ({ $purpose })
line_pin_noted = Pin { $pin } de { $connector } anotado
line_programming_decided = Opción de programación elegida: { $route }, cotizado { $total }
line_programming_reported = Programación: { $outcome }, cobrado { $total }
line_reading_corrected = La lectura { $number } corrige una anterior: { $shown } · { $test }
line_reading_kept = Lectura { $number }: { $shown } · { $test }
line_report_written = Informe hecho: { $name }
line_test_unreachable = Prueba sin acceso: { $test }
line_approval_requested = Aprobación de la versión { $version } solicitada ({ $channel })
line_estimate_waived = { $name } renunció al presupuesto escrito ({ $channel })
line_approval_withdrawn = Aprobación retirada ({ $channel })
line_credit_note_kept = Nota de crédito { $name }: { $total }
line_payment_kept = { $way } ({ $means }): { $total }
line_supplier_step_kept = { $name }: { $step } { $total }
