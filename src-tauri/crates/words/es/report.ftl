### What the findings report says. Where it says the same as the screens, it takes their words;
### a key that begins with `report_` is what it says in their place, for a reader who is no technician.

approval_channel_e_mail = por correo electrónico
approval_channel_in_person = en persona
approval_channel_phone = por teléfono
approval_channel_text_message = por mensaje de texto
approval_entry = Versión { $version }, hasta { $amount }, { $channel }, { $when }
report_approval_name = Aprobado por { $name }
approval_no_signature = No consta firma dibujada para esta aprobación.
approval_old_parts_exchange = Piezas viejas: entregadas a cambio
approval_old_parts_keep_by_shop = Piezas viejas: se las queda el taller
approval_old_parts_return = Piezas viejas: vuelven al cliente
approval_signature_alt = Firma dibujada al aprobar la versión { $version }
approval_signature_unreadable = Consta una firma, pero no se puede dibujar aquí.
report_approval_words = En palabras del cliente: «{ $words }»

bottom_bill = Usted aprobó { $approved }. La factura es de { $total }.
bottom_bill_over = La factura pide { $over } más de lo que usted aprobó.
bottom_called = Encontramos la falla: { $cause }.
bottom_fixed = Medimos el mismo punto después de reparar. Marcó { $before } antes y { $after } después.
bottom_likelihood = Lo que medimos lo hace { $likelihood }.
bottom_module = Encontramos la falla en un módulo de control: { $cause }.
bottom_module_checked = Antes medimos sus alimentaciones, sus masas, sus entradas y su salida con carga.
bottom_no_approval = No consta que usted aprobara un precio.
bottom_no_bill = Usted aprobó { $approved }. Aún no hay factura.
bottom_no_finding = Aún no encontramos la falla.
bottom_not_fixed = Aún no hay una lectura tomada después de reparar.
bottom_not_proven = La falla no está probada aún.
bottom_not_proven_guess = Comprar una pieza ahora sería adivinar.
bottom_open_fuse = Un fusible se funde porque pasó demasiada corriente. Hay que encontrar qué la causó, o el fusible nuevo también se fundirá.
bottom_programming_failed_one = Un intento de programación falló. Aun así cobraron { $billed }.
bottom_programming_failed_many = Fallaron { $count } intentos de programación. Aun así cobraron { $billed }.
bottom_programming_less = La programación se cotizó en { $quoted }. Se cobró { $billed }: son { $difference } menos.
bottom_programming_more = La programación se cotizó en { $quoted }. Se cobró { $billed }: son { $difference } más.

cause_text = { $part }: { $failure }
cause_unmodelled = Algo fuera del circuito que probamos

complaint_present_no = La falla no se veía en ese momento
complaint_present_unknown = No se sabe si la falla se veía
complaint_present_yes = La falla se veía en ese momento

condition_reconditioned = reacondicionada

cost_approved = Aprobado, versión { $version }
cost_approved_note = { $channel }, { $when }
cost_bill = Factura { $number }
cost_not_approved = Pedido en la versión { $version }, no aprobado
cost_over = Por encima de lo aprobado
cost_programming_billed = Programación, cobrado
cost_programming_attempt = Programación, intento { $number }, cobrado
cost_programming_note = { $when }, { $outcome }
cost_programming_quoted_total = Todos los intentos, cotizado
cost_programming_billed_total = Todos los intentos, cobrado
cost_programming_difference = Programación, cobro menos cotización
cost_programming_quoted = Programación, cotizado
cost_under = Queda de lo aprobado

date = { $order ->
    [day_month_year] { $day } de { $month } de { $year }
   *[other] { $day } de { $month } de { $year }
  }, { $time } (UTC{ $offset })
local_time = { $order ->
    [day_month_year] { $day } de { $month } de { $year }
   *[other] { $day } de { $month } de { $year }
  }, { $time }

document_title = Informe de hallazgos, trabajo { $number }

doubt_entry = Entrada { $sequence }, { $when }: { $doubt }
doubt_entry_photo = Entrada { $sequence } (foto { $number }), { $when }: { $doubt }

ending_rules = Las reglas sobre presupuestos, aprobaciones y facturas cambian de un lugar a otro. Consulte sus reglas locales. Lo impreso aquí no es consejo legal.
ending_rules_region = Región elegida en la aplicación: { $region }. Sus reglas se leyeron aquí:

expected_at_least = al menos { $min }
expected_at_most = a lo sumo { $max }
expected_between = de { $min } a { $max }
expected_computed = calculado para un circuito sano
expected_healthy = cerca de { $value }
expected_unknown = no consta límite

failure_always_on = nunca se apaga
failure_dead = su salida no responde
failure_draws_too_much = consume demasiada corriente
failure_high_resistance = demasiada resistencia
failure_jammed = está trabado
failure_low_duty = está encendido muy poco tiempo
failure_weak_signal = su señal es muy débil (punta sucia, mucha separación o dientes dañados)
failure_low_voltage = su voltaje es muy bajo
failure_leaks = su salida tiene fugas y no se activa
failure_not_commanded = el módulo la retiene: falta una condición, o es la programación
failure_open = está cortado, no pasa corriente
failure_open_fuse = está fundido
failure_short_across = está en cortocircuito entre sus extremos
failure_short_to_feed = está en corto con la alimentación
failure_short_to_ground = está en corto a masa
failure_stuck_closed = nunca se abre
failure_stuck_open = nunca se cierra
failure_unresponsive = nada la activa
failure_weak = su salida es débil

finding_engine = Calculado con { $engine }; circuito «{ $circuit }», cuyo archivo tiene la huella
finding_entry = { $when }: { $outcome }
finding_or_programming = No hubo escáner a mano: también puede ser la programación del módulo.
report_finding_words = En palabras del técnico: «{ $words }»

ground_against = la lectura { $number } ({ $value }) { $weight } en contra ({ $times } a 1)
ground_for = la lectura { $number } ({ $value }) { $weight } a esto ({ $times } a 1)
ground_line = Lo que lo decidió: { $grounds }.

hand_over_entry = Entregado { $when }
report_hand_over_old_parts = Piezas viejas: { $old_parts }
report_hand_over_warranty = Garantía: { $warranty }
warranty_until = Hasta { $end }
warranty_first = Hasta el { $day } o { $odometer }, lo que ocurra primero

invoice_hours = { $quantity } h a { $price }
invoice_part_number = número { $number }
invoice_pieces = { $quantity } a { $price }
invoice_provider = lo hace { $provider }
invoice_supplier = de { $supplier }
invoice_tax = { $tax }, { $rate }% de { $taxable }, redondeado { $basis }
invoice_tax_included = { $tax } { $rate }%, incluido en los precios de arriba, redondeado { $basis }
invoice_tax_basis_invoice = una vez por factura
invoice_tax_basis_line = línea por línea
invoice_title = Factura { $number }, por la versión { $version } del presupuesto, { $when }
invoice_total = Total

report_kind_core_charge = Depósito por casco (pieza vieja)
report_kind_core_credit = Depósito devuelto
report_kind_discount = Descuento

label_approvals = Aprobaciones
label_bill_amount = Importe
label_bill_line = Qué
label_bill_quantity = Cuánto
label_bottom = Lo que encontramos
label_cause = Causa
label_causes = Por qué esto y no otra cosa
label_cautions = Precauciones leídas en este trabajo
label_complaint = Lo que usted nos contó
label_cost = Lo que costó
label_customer = Cliente
label_course = Lo que descartó cada lectura
label_doubts = Notas sobre relojes
label_drawing = El circuito y lo que se midió en él
label_endings = Antes de confiar en este informe
label_findings = Hallazgos registrados
label_fingerprint = Huella de la llave que firma (SHA-256)
label_fingerprint_words = La llave en ocho palabras
label_good = Debe ser
label_hand_over = Entrega
label_invoice = Factura
label_likelihood = Qué tan probable
label_meter = Medidor
label_missing = Lo que aún falta
label_odometer = Odómetro
label_parts = Piezas
label_photos = Fotos y sus huellas
label_photos_note = Las fotos pequeñas son copias sin ubicación. La huella (SHA-256) es la de la foto tal como se tomó.
label_plate = Placa
label_programming = Programación
label_proof = Antes y después
label_reading = Lectura
label_readings = Todas las lecturas que tomamos
label_registration = Registro
label_remaining = Qué más podría ser
label_seal = Cómo comprobar que nada se cambió
label_seal_text = Punto de control
label_seal_words = El punto de control en ocho palabras
label_technician = Técnico
label_value = Valor
label_vehicle = Vehículo
label_vin = VIN
label_where = Qué, dónde y cómo

likelihood = { $word } ({ $percent })

meter_entry = { $name }: entrada de { $ohms }, ±({ $percent }% + { $counts } cuentas) en voltios CC
meter_unnamed = Medidor

report_missing_connector_not_clean = El conector está dañado.
report_missing_connector_not_inspected = El conector no se abrió ni se inspeccionó.
report_missing_conditions_not_met = El escáner muestra que el módulo retiene su salida: { $about }.
report_missing_conditions_not_read = No se leyó con el escáner lo que el módulo exige antes de activar la salida: { $about }.
report_missing_failing_reading_not_repeated = La lectura que falla no se repitió después de inspeccionar el conector.
report_missing_ground_not_good = Una masa no está bien: { $about }.
report_missing_ground_not_observed = Una masa no se midió mientras la falla se veía: { $about }.
report_missing_harness_not_good = Los cables del módulo no están bien con el módulo desenchufado: { $about }.
report_missing_harness_not_observed = Los cables del módulo no se midieron con el módulo desenchufado: { $about }.
report_missing_input_not_good = Una entrada no está bien: { $about }.
report_missing_input_not_observed = Una entrada no se revisó mientras la falla se veía: { $about }.
missing_more = { $names }; y { $count } más
report_missing_not_separable = Ninguna lectura distingue el módulo de: { $about }.
report_missing_output_does_not_fail = La salida funciona con carga: { $about }.
report_missing_output_not_observed_past_terminal = La salida no se midió sin pasar por su terminal mientras la falla se veía: { $about }.
report_missing_output_not_observed_under_load = La salida no se midió con carga mientras la falla se veía: { $about }.
report_missing_output_test_not_done = La salida no se ordenó con el escáner mientras la falla se veía: { $about }.
report_missing_output_test_works = La salida funciona cuando el escáner la ordena: { $about }.
report_missing_probability_too_low = El módulo no es lo bastante probable.
report_missing_readings_contradict = Dos lecturas no concuerdan. Hay que repetir una.
report_missing_rival_too_likely = Otra causa es aún demasiado probable: { $about }.
report_missing_supply_not_good = Una alimentación no está bien: { $about }.
report_missing_supply_not_observed = Una alimentación no se midió mientras la falla se veía: { $about }.

mode_amps = amperios CC

month_1 = enero
month_10 = octubre
month_11 = noviembre
month_12 = diciembre
month_2 = febrero
month_3 = marzo
month_4 = abril
month_5 = mayo
month_6 = junio
month_7 = julio
month_8 = agosto
month_9 = septiembre

none_readings = No consta ninguna lectura.
none_remaining = No consta una lista calculada de causas.
none_withheld = no revelado

outcome_cause_called = Se señaló la causa.
outcome_module_called = Se señaló el módulo como causa.
outcome_not_proven = Aún sin probar.

overturn_entry = { $test } { $result }
overturn_line = Lo que lo cambiaría: { $results }.

page_job = { $shop } · trabajo { $number } · abierto { $opened }
page_of = Página { $page } de { $pages }
page_written = Trabajo { $number } · informe hecho { $when }

report_part_core = depósito por la pieza vieja { $amount }
part_entry = { $description }, { $condition }
report_part_number = número { $number }
part_paid = pagado { $price }
part_receipt = Recibo y pieza: { $photos }
part_return = Condiciones de devolución: { $terms }
report_part_supplier = de { $supplier }, { $when }
report_part_warranty = Garantía: { $terms }

photo_alt = Foto { $number }: { $purpose }
photo_bytes = { $bytes } bytes
photo_entry = Foto { $number }: { $purpose }
photo_kept = guardada { $when }
photo_left_out = foto omitida para que este archivo sea pequeño
photo_marked = con marcas dibujadas por el taller; el original no las tiene
photo_missing = el original falta en el taller desde el { $since }
photo_not_shown = no hay copia pequeña
photo_one = foto { $numbers }
photo_some = fotos { $numbers }
photo_taken = hora de la cámara { $when }
photo_unclean = foto omitida: lleva datos de lugar o cámara

report_programming_appointment = Cita: { $appointment }
report_programming_decided = { $when }: { $route }, cotizado { $quoted }
programming_outcome_failed = falló
programming_outcome_module_lost = el módulo quedó inservible
programming_outcome_succeeded = funcionó
report_programming_provider = Lo hace { $provider }
report_programming_reason = Por qué: { $reason }
programming_reported = { $when }: { $outcome }, cobrado { $billed }
report_programming_attempt = { $when }, intento { $number }: { $outcome }, cobrado { $billed }
programming_corrected = Se anotó mal; el intento { $number } lo corrige y lo reemplaza.
programming_software = Software { $before } antes, { $after } después
report_programming_supply = Alimentación al programar: { $volts } V
programming_weighed = Comparado: { $route }, se esperan { $cost } y { $hours } h, éxito { $success }

report_proof_note = Nota: { $note }

qr_alt = Código QR con el punto de control firmado, como texto

reading_withdrawn = Retirada por el técnico
reading_corrected_by = Corregida por la lectura { $number }
reading_corrects = Corrige la lectura { $number }
reading_corrects_why = Corrige la lectura { $number }: { $reason }
reading_leads = punta roja en { $red }, punta negra en { $black }
reading_load = con { $load } como carga
reading_name = Lectura { $number }
reading_note = Nota: { $note }
reading_pin = pin { $number }, función no segura
reading_plain = Lectura

report_route_dealer_sublet = lo hace un concesionario
report_route_own_tool = lo hace el taller con su propia herramienta
report_route_remote_service = lo hace un servicio remoto

seal_compare = Compare estas palabras con las que recibió al aprobar el precio. Una llave que solo viene con el archivo no prueba nada.
seal_covers = Firmado { $signed }. Cubre las primeras { $size } entradas del trabajo. Este informe es una entrada posterior.
seal_proves = Una comprobación puede probar «sin cambios desde que esta llave lo selló». No puede probar «verdadero». Quien tenga la llave pudo reescribir las entradas posteriores al último punto de control que le entregaron, o quitar algunas del final.
seal_stamp = Un sello de tiempo independiente prueba «existía a esta hora», nada anterior. Quien tiene la llave pudo poner fecha anterior a lo hecho entre dos sellos.
seal_time = La autoridad de sellado de tiempo «{ $signer }» declara: las primeras { $size } entradas existían a más tardar el { $time }.
seal_time_unknown = El certificado de un desconocido, que se llama a sí mismo «{ $signer }», afirma la hora { $time } para las primeras { $size } entradas. No se nombró antes ningún certificado suyo, así que no prueba ninguna hora.

state_entry = { $what }: { $position }

subtotal_labour = Mano de obra y diagnóstico
subtotal_other = Otros
subtotal_parts = Piezas
subtotal_sublet = Trabajo de terceros

report_unit_yes_no = { "" }

value_no = no
report_provoke_cooled = La pieza se enfrió durante la lectura
report_provoke_heated = La pieza se calentó durante la lectura
report_provoke_wiggled = El cableado se movió durante la lectura

value_over_limit = OL (más que el alcance del medidor)
value_over_range = más de { $range } (fuera de este rango)
value_yes = sí

vehicle_odometer = { $odometer } { $unit }

weight_little = apunta un poco
weight_much = apunta claramente
weight_something = apunta algo
weight_very_much = apunta con fuerza
doubt_record_unusable = Este registro no se puede usar; el trabajo sigue sin él
cost_credit = Nota de crédito { $number }
cost_paid = Pagado ({ $means })
cost_refunded = Devuelto ({ $means })
cost_due = Falta por pagar
cost_owed_back = El taller le debe
cost_withdrawn = Aprobado, versión { $version }, retirado después
credit_title = Nota de crédito { $number } sobre la factura { $invoice }, { $when }
credit_reason = Motivo: { $reason }
local_day = { $order ->
    [day_month_year] { $day } de { $month } de { $year }
   *[other] { $day } de { $month } de { $year }
  }
report_approval_number_called = Número llamado: { $number }
report_approval_called_by = Llamó { $name }
report_approval_conditions = Con la condición: “{ $conditions }”
report_approval_declined = Rechazado: { $description }
report_approval_deferred = Aplazado: { $description }
report_approval_withdrawn = Retirada { $channel }, { $when }
calendar_title = Programar el módulo: { $vehicle } (trabajo { $number })
calendar_alarm = Conecte la interfaz y el mantenedor de batería { $minutes } minutos antes.
programming_checks = Comprobado antes: { $checks }
programming_voltages = Alimentación anotada { $count } veces, de { $lowest } a { $highest } V.
programming_window = Ventana del fabricante, según se anotó: { $lowest } a { $highest } V; por debajo: { $below }.
programming_decided_plain = { $when }: { $route }
programming_reported_plain = { $when }: { $outcome }
programming_attempt_plain = { $when }, intento { $number }: { $outcome }

report_drawing_alt = Dibujo de { $circuit } con sus lecturas. { $readings }
report_course_together = Todas las lecturas juntas
