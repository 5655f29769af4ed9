### A sentence and a remedy for every code the core sends; `{names}` are values that come with it.

error_unexpected = Algo salió mal.
remedy_unexpected = Lo guardado sigue guardado. Inténtelo otra vez; si se repite, anote lo que dice en «Para el registro».
error_already_open = La aplicación ya está abierta con estos datos.
remedy_already_open = Cierre la otra ventana y abra esta de nuevo.
error_folder_read_only = No se puede escribir en la carpeta de datos.
remedy_folder_read_only = Dé permiso de escritura a la aplicación y ábrala de nuevo. Lo guardado sigue ahí.
error_disk_full = El almacenamiento está lleno; esto no se guardó.
remedy_disk_full = Libere espacio y captúrelo otra vez. Todo lo anterior está a salvo.
error_written_by_newer_version = Una versión más nueva de la aplicación escribió estos datos.
remedy_written_by_newer_version = Actualice la aplicación y ábrala de nuevo.
error_photo_not_kept = Una foto usada aquí no está guardada en la aplicación.
remedy_photo_not_kept = Tome la foto otra vez.
error_store_failed = No se pudieron leer o escribir los datos de la aplicación.
remedy_store_failed = Abra la aplicación de nuevo. Lo guardado sigue guardado.
error_photo_empty = Este archivo está vacío.
remedy_photo_empty = Tome la foto otra vez o elija otro archivo.
error_photo_not_a_picture = Este archivo no es una imagen.
remedy_photo_not_a_picture = Elija una foto: JPEG, PNG, WebP o HEIC.
error_photo_truncated = La imagen está cortada; falta una parte.
remedy_photo_truncated = Tome la foto otra vez o copie el archivo completo.
error_photo_damaged = La imagen está dañada.
remedy_photo_damaged = Tome la foto otra vez o elija otro archivo.
error_paper_not_read = El papel no se puede leer en este dispositivo.
remedy_paper_not_read = Escriba a mano lo que dice. La foto no cambia.
error_amount_unreadable = Esto no es un monto.
remedy_amount_unreadable = Use cifras, como 12.50.
error_amount_ambiguous = Este monto se puede leer de dos maneras.
remedy_amount_ambiguous = Escriba también los centavos, como 1234.00 o 1.23.
error_line_without_description = Un renglón no dice para qué es.
remedy_line_without_description = Escriba qué paga el cliente en ese renglón.
error_part_without_condition = Una pieza no tiene estado.
remedy_part_without_condition = Elija nueva, usada o reconstruida.
error_sublet_without_provider = El trabajo de terceros no nombra a nadie.
remedy_sublet_without_provider = Escriba quién lo hace: el cliente debe verlo.
error_money_refused = Estos montos no cuadran.
remedy_money_refused = Revise cantidades, precios y signos.
error_reading_not_a_number = Un medidor no muestra un valor así.
remedy_reading_not_a_number = Escríbalo como se ve, por ejemplo 12.4 u OL.
error_reading_out_of_range = Ningún medidor de mano muestra tanto.
remedy_reading_out_of_range = Revise la unidad y el punto decimal.
error_recording_out_of_order = El valor mínimo está por encima del máximo.
remedy_recording_out_of_order = Corrija uno de los dos.
error_reading_value_missing = Esta lectura tiene un mínimo y un máximo, pero no un valor propio.
remedy_reading_value_missing = Escriba también el valor, o deje solo uno de los dos.
error_photo_shows_other = La foto parece mostrar { $seen }. Usted tecleó { $typed }.
remedy_photo_shows_other = Mire otra vez la pantalla. Guarde lo que tecleó, o cámbielo.
error_reading_unit = Esta unidad no va con el modo del medidor.
remedy_reading_unit = Elija otra unidad o modo.
error_evidence_unreadable = No se puede leer un registro sellado.
remedy_evidence_unreadable = No borre nada. Abra la aplicación de nuevo; si se repite, use su copia de respaldo.
error_circuit_refused = El circuito no puede usar esto.
remedy_circuit_refused = Elija de la lista; «Para el registro» dice qué estuvo mal.
error_invoice_over_approved = La factura pasa en { $over } de lo máximo que puede cobrar: { $allowed } sobre { $approved } aprobado.
remedy_invoice_over_approved = Quite renglones, o haga un presupuesto nuevo y consiga antes la aprobación.
error_job_unreadable = Los registros de este trabajo no concuerdan.
remedy_job_unreadable = Actualice la aplicación. Si eso no ayuda, revise el paquete del trabajo o use su copia de respaldo.
error_vin_refused = Esto no puede ser un VIN.
remedy_vin_refused = Compárelo con la etiqueta, carácter por carácter.
error_vin_forbidden_letter = Un VIN nunca lleva I, O ni Q.
remedy_vin_forbidden_letter = Se parecen a 1, 0 y 9: mire la etiqueta otra vez.
error_vin_forbidden_character = Un VIN solo lleva letras y cifras.
remedy_vin_forbidden_character = Mire la etiqueta otra vez.
error_vin_length = Un VIN tiene 17 caracteres.
remedy_vin_length = Compárelo otra vez con la etiqueta.
error_vin_check_digit = El dígito de control, en la posición 9, no coincide con los demás.
remedy_vin_check_digit = Un carácter se leyó mal. Compare con la etiqueta; los vehículos no hechos para Norteamérica pueden no tenerlo.
error_report_failed = No se pudo hacer el informe.
remedy_report_failed = Inténtelo otra vez. Lo guardado sigue guardado.
error_packet_failed = No se pudo escribir el paquete.
remedy_packet_failed = Revise el espacio del teléfono e inténtelo otra vez.
error_no_randomness = El teléfono no dio números al azar; sin ellos no se puede sellar.
remedy_no_randomness = Reinicie el teléfono.
error_file_failed = No se pudo leer o escribir un archivo.
remedy_file_failed = Compruebe que la carpeta existe y se puede escribir en ella.
error_unknown_choice = { $code ->
    [odometer] Odómetro: solo cifras.
    [odometer_unit] Unidades del odómetro: solo millas o kilómetros.
    [amount] Precio: no puede ser menor que cero.
    [accuracy_counts] Exactitud, cuentas del último dígito: un número entero de 0 a 1000.
    [accuracy_percent] Exactitud, por ciento de la lectura: «{ $value }» no es un número de 0 a 20.
    [volts_input_megohms] Resistencia de entrada: «{ $value }» no es un número de megaohmios de 0.01 a 100,000.
    [low_impedance_kilohms] Resistencia en baja impedancia: «{ $value }» no es un número de kiloohmios de 0.1 a 10,000.
    [photo] Una foto usada aquí no está en este trabajo.
    [signature] No se puede leer la firma.
    [registration] Número de registro del taller: «{ $value }» no tiene letras ni cifras.
    [invoice_prefix] Inicio de las facturas: «{ $value }» no sirve: diez letras y cifras como máximo, sin espacios ni guiones.
    [credit_prefix] Inicio de las notas de crédito: «{ $value }» no sirve: diez letras y cifras como máximo, sin espacios ni guiones.
    [tax_number] Número fiscal en las facturas: «{ $value }» no tiene letras ni cifras.
    [warranty_months] Garantía, meses: «{ $value }» no es un número entero.
    [warranty_distance] Garantía, distancia: «{ $value }» no es un número entero.
    [keeps_years] Años que se guardan los registros: un número entero de 1 a 100.
   *[other] { $what }: «{ $value }» no es una de las opciones.
}
remedy_unknown_choice = { $code ->
    [odometer] Escríbalo sin letras ni signo menos.
    [amount] Escriba el monto sin signo menos.
    [photo] Tome la foto otra vez.
    [signature] Pida al cliente que firme otra vez.
    [registration] Escríbalo como está en su registro, o déjelo vacío.
    [invoice_prefix] Use letras y cifras, o déjelo vacío.
    [credit_prefix] Use letras y cifras, o déjelo vacío.
    [tax_number] Escríbalo como lo dio la oficina de impuestos, o déjelo vacío.
    [warranty_months] Escriba solo cifras, o deje el campo vacío.
    [warranty_distance] Escriba solo cifras, o deje el campo vacío.
    [keeps_years] Escriba solo cifras, o deje el campo vacío.
   *[other] Corríjalo y guarde otra vez. Nada de lo escrito se pierde.
}
error_number_out_of_range = { $value } { $unit } no puede ser aquí.
remedy_number_out_of_range = Escriba de { $least } a { $most } { $unit }.
error_not_a_number = «{ $value }» no es un número.
remedy_not_a_number = Escriba un número como 1.5.
error_no_color = «{ $value }» no es un color de cable.
remedy_no_color = Escriba dos letras por color: BU, o BUYE para azul con raya amarilla.
error_words_refused = Este texto no puede ir en un circuito.
remedy_words_refused = Escríbalo más corto, y tecléelo en vez de pegarlo.
error_field_empty = Sigue vacío: { $field }.
remedy_field_empty = Complételo.
error_field_too_long = Demasiado largo: { $field }, a lo sumo { $limit } caracteres.
remedy_field_too_long = Acórtelo.
error_not_set_up = El taller aún no está configurado.
remedy_not_set_up = Termine primero la configuración.
error_cancelled = Detenido.
remedy_cancelled = No se cambió nada.
error_unreadable = La aplicación no entendió su propia pantalla.
remedy_unreadable = Abra la aplicación de nuevo. Lo guardado sigue guardado.
error_choose_circuit_first = No hay circuito elegido.
remedy_choose_circuit_first = Elija primero el circuito.
error_choose_meter_first = No hay medidor elegido.
remedy_choose_meter_first = Elija primero el medidor: sus especificaciones limitan lo que puede probar una lectura.
error_no_reading_yet = Aún no hay ninguna lectura.
remedy_no_reading_yet = Tome una primero.
error_module_not_proven = No está probado que el módulo falle.
remedy_module_not_proven = Vea qué falta bajo el nombre del módulo en Diagnóstico, o elija «Aún no probado».
error_cause_not_proven = Esta causa no es lo bastante probable para señalarla.
remedy_cause_not_proven = Haga la prueba siguiente, o elija «Aún no probado».
error_no_estimate = No hay presupuesto.
remedy_no_estimate = Guarde primero una versión del presupuesto.
error_already_approved = La última versión ya está aprobada.
remedy_already_approved = Para más trabajo, guarde una versión nueva y consiga su aprobación.
error_not_the_latest_version = Esta no es la última versión.
remedy_not_the_latest_version = Muestre al cliente la última versión y consiga la aprobación de esa.
error_no_signature = Falta la firma.
remedy_no_signature = Que el cliente firme con el dedo, o elija otro modo que «en persona».
error_nothing_approved = No hay nada aprobado.
remedy_nothing_approved = Consiga primero la aprobación del presupuesto.
error_no_finding = No hay hallazgo.
remedy_no_finding = Guarde primero un hallazgo.
error_no_programming_decision = No hay opción de programación elegida.
remedy_no_programming_decision = Elija primero quién lo programa.
error_no_reading_after_repair = No hay lectura tomada después de la reparación.
remedy_no_reading_after_repair = Repita la lectura que falló, en los mismos puntos y en el mismo estado.
error_not_the_same_test = Estas dos lecturas no son la misma prueba.
remedy_not_the_same_test = Elija dos con los mismos puntos, modo y estado.
error_proof_in_wrong_order = Una tiene que ser de antes de reparar y la otra de después.
remedy_proof_in_wrong_order = Elija como «antes» la lectura que falló.
error_no_invoice = No hay factura.
remedy_no_invoice = Guarde primero la factura.
error_no_lines = No hay renglones.
remedy_no_lines = Agregue al menos un renglón.
error_no_receipt_photo = Falta la foto del recibo.
remedy_no_receipt_photo = Tómela primero.
error_already_corrected = Esta lectura ya está corregida.
remedy_already_corrected = Corrija la más nueva.
error_attempt_already_corrected = Este intento ya se corrigió.
remedy_attempt_already_corrected = Corrija el más nuevo.
error_no_covered_copy = No es posible: esta foto no tiene copia cubierta.
remedy_no_covered_copy = Cubra primero las zonas, o elija el original o ninguna.
error_cannot_strip = De este tipo de imagen no se puede hacer aquí una copia limpia.
remedy_cannot_strip = Envíe el original o déjelo aquí.
error_photo_forgotten = Esta misma foto se destruyó al borrar los datos de un cliente. No se puede guardar otra vez.
remedy_photo_forgotten = Tome una foto nueva.
error_original_damaged = La foto en este dispositivo está dañada: ya no es el archivo que se selló.
remedy_original_damaged = Si tiene el archivo en otro lugar, agréguelo otra vez al trabajo. Si no, tome una foto nueva.
error_no_area_marked = No hay ninguna zona marcada en la foto.
remedy_no_area_marked = Dibuje un rectángulo sobre lo que no debe verse.
error_too_many_marks = Esta foto tiene más marcas de las que caben: 40 como máximo.
remedy_too_many_marks = Quite algunas y guarde.
error_mark_without_text = Una de las marcas de texto no tiene texto.
remedy_mark_without_text = Escriba su texto o quítela.
error_mark_text_too_long = El texto de una marca pasa de una línea: 60 caracteres como máximo.
remedy_mark_text_too_long = Acórtelo. Lo más largo va en la nota de la lectura.
error_mark_off_picture = Una marca está fuera de la foto o no tiene tamaño.
remedy_mark_off_picture = Muévala a la foto o quítela.
error_marks_unchanged = Estas marcas ya están en el registro.
remedy_marks_unchanged = No hay nada que guardar.
error_authority_address = Esta no es la dirección de una autoridad de sellado de tiempo.
remedy_authority_address = Escríbala con https:// o http:// delante y sin espacios.
error_authority_unreachable = La autoridad no respondió.
remedy_authority_unreachable = Compruebe la red y la dirección. Se volverá a intentar más tarde.
error_authority_root = Este texto no contiene un certificado legible.
remedy_authority_root = Pegue el certificado raíz de la autoridad como texto (PEM).
error_timestamp_refused = El sello de tiempo no es válido.
remedy_timestamp_refused = No se guardó nada. Inténtelo de nuevo o elija otra autoridad.
error_key_locked = La llave está bloqueada con su frase de contraseña.
remedy_key_locked = Lo que escribió se queda en su formulario. Desbloquee la llave en la primera pantalla y guárdelo otra vez.
error_wrong_passphrase = La frase de contraseña no es correcta.
remedy_wrong_passphrase = Escríbala de nuevo. Cuentan las mayúsculas y los espacios.
error_key_unreadable = No se puede leer el archivo de la llave.
remedy_key_unreadable = Restaure una copia de respaldo o continúe con una llave nueva en Ajustes, La llave de este teléfono.
error_not_a_backup = Este archivo no es una copia de respaldo de Testimeter.
remedy_not_a_backup = Elija un archivo que termine en .tar.age.
error_backup_damaged = La copia de respaldo está dañada. No se restauró nada.
remedy_backup_damaged = Vea qué se puede leer de ella y use otra copia.
error_folder_not_empty = La carpeta no está vacía.
remedy_folder_not_empty = Elija o cree una carpeta vacía.
error_files_busy = Se está haciendo una copia de respaldo o una exportación.
remedy_files_busy = Espere a que termine o deténgala.
error_job_moved = Este trabajo avanzó mientras el formulario estaba abierto.
remedy_job_moved = Nada de lo escrito se pierde. Mire lo nuevo y guarde otra vez.
error_records_not_vouched = Este trabajo tiene registros que nadie firmó.
remedy_records_not_vouched = Véalos en la línea de tiempo y acéptelos. Hasta entonces no se puede agregar ni entregar nada.
error_record_not_signed = La firma de este registro no es de ninguna llave que se conozca aquí.
remedy_record_not_signed = No se guardó nada. Abra la aplicación de nuevo e inténtelo otra vez.
error_nothing_to_take_in = Todos los registros de este trabajo ya están firmados.
remedy_nothing_to_take_in = No hay nada que hacer.
error_log_forked = Dos registros distintos ocupan el mismo lugar de este diario.
remedy_log_forked = No se sobrescribió nada. Guarde ambas copias y averigüe quién escribió la otra.
error_key_is_lost = La llave de este dispositivo ya no está.
remedy_key_is_lost = Restaure una copia de respaldo o continúe con una llave nueva en Ajustes, La llave de este teléfono. Cada veredicto mostrará la ruptura.
error_key_not_lost = La llave no se ha perdido: está en su lugar.
remedy_key_not_lost = Mejor cámbiela. Así la llave anterior firma por la nueva.
error_passphrase_too_short = La frase de contraseña es demasiado corta.
remedy_passphrase_too_short = Use al menos { $least } caracteres. Varias palabras sin relación entre sí funcionan bien.
error_already_set_up = En este dispositivo ya hay un taller configurado.
remedy_already_set_up = Restaure una copia de respaldo en un dispositivo nuevo, o después de quitar los datos de este.
error_nothing_to_forget = Ahora no queda nada que destruir.
remedy_nothing_to_forget = Lo demás se guarda mientras deban guardarse los registros de reparación.

error_control_supply_unusual = El voltaje de alimentación está fuera de 5 a 20 V.
remedy_control_supply_unusual = Revíselo. Si es correcto, confírmelo aquí y guarde otra vez.
error_finding_nothing_picked = No hay nada elegido.
remedy_finding_nothing_picked = Elija lo que señala como causa, o «Aún no probado».
error_signature_too_short = Esto es demasiado corto para ser una firma.
remedy_signature_too_short = Toque «Firmar de nuevo» y pida al cliente que firme con el dedo.
error_value_refused = Esto no puede estar en un registro: { $field }.
remedy_value_refused = Corríjalo y guarde de nuevo. «Para el registro» dice por qué.
error_setting_unreadable = Un ajuste no se puede leer: { $name }.
remedy_setting_unreadable = Escríbalo de nuevo o restaure una copia de respaldo.
error_log_damaged = Una serie de registros está dañada.
remedy_log_damaged = No borre nada. Para lo que no se pueda leer, use su copia de respaldo.
error_amount_below_zero = Este monto no puede ser menor que cero.
remedy_amount_below_zero = Escríbalo sin signo menos. Lo que se resta es un descuento o un crédito por casco.
error_amount_over_limit = Este monto pasa de 10,000,000.00.
remedy_amount_over_limit = Revise los dígitos y el punto decimal.
error_deduction_above_zero = Un descuento o crédito tiene que ser menor que cero.
remedy_deduction_above_zero = Ponga un signo menos delante de su precio.
error_total_below_zero = El total sería menor que cero.
remedy_total_below_zero = Baje el descuento o el crédito.
error_not_a_time = Esto no es un día con hora: { $field }.
remedy_not_a_time = Elija el día y la hora, o déjelo vacío.
error_phone_form = Esto no es un número de teléfono.
remedy_phone_form = «{ $value }» sigue aquí como lo escribió. Un teléfono tiene de 7 a 15 dígitos y, si hace falta, una extensión: 512 555 0142 x12.
error_email_form = Esto no es una dirección de correo.
remedy_email_form = «{ $value }» sigue aquí como lo escribió. Una dirección es como nombre@example.com.
error_fault_code_form = Esto no es un código de falla.
remedy_fault_code_form = «{ $value }» no puede serlo. Un código es P, B, C o U, un dígito de 0 a 3 y tres dígitos o letras de la A a la F; después, dos más para el tipo de falla: P0301, U0100-87.
error_fault_code_twice = { $value } ya está en la lista.
remedy_fault_code_twice = El mismo código del mismo módulo con el mismo estado se guarda una sola vez.
error_fault_codes_too_many = Hay demasiados códigos de falla.
remedy_fault_codes_too_many = Una recepción guarda { $most } códigos. Quite algunos de la lista.
error_odometer_digits = Odómetro: solo dígitos.
remedy_odometer_digits = «{ $value }» no se puede leer. Escriba solo los dígitos del tablero, nueve como máximo.
error_proof_not_a_pair = Una prueba es un par de lecturas.
remedy_proof_not_a_pair = Elija la lectura que falló y la de después de la reparación.
error_bill_not_estimated = “{ $description }” no está en el presupuesto aprobado.
remedy_bill_not_estimated = Póngalo en una versión nueva y pida su aprobación, o quite la línea. Si solo cambiaron las palabras, use las aprobadas.
error_bill_declined = El cliente rechazó “{ $description }”.
remedy_bill_declined = Quite la línea, o pregunte de nuevo y guarde la respuesta.
error_bill_deferred = El cliente aplazó “{ $description }”.
remedy_bill_deferred = Quite la línea, o pregunte de nuevo y guarde la respuesta.
error_bill_condition = “{ $description }” se aprobó en otro estado (nuevo, usado, reconstruido).
remedy_bill_condition = Póngalo como se aprobó, o pida aprobación de una versión con la pieza que montó.
error_bill_part_number = “{ $description }” se aprobó con el número de parte { $was }, no { $now }.
remedy_bill_part_number = Corrija el número, o pida aprobación de una versión con esta pieza.
error_bill_provider = Se aprobó que “{ $description }” lo hiciera { $was }, no { $now }.
remedy_bill_provider = Corrija el nombre, o dígale al cliente quién lo hizo y pida su aprobación.
error_bill_taxed = “{ $description }” se aprobó sin impuesto.
remedy_bill_taxed = Quite el impuesto de esta línea, o pida aprobación de una versión con él.
error_bill_quantity = “{ $description }”: { $was } aprobado, { $now } cobrado.
remedy_bill_quantity = Bájelo, o pida aprobación de una versión con la cantidad mayor.
error_bill_price = “{ $description }” se aprobó a { $approved } cada uno.
remedy_bill_price = Baje el precio, o pida aprobación de una versión con este. El dinero no pasa de una línea a otra.
error_bill_before = “{ $description }” ya se cobró.
remedy_bill_before = Quite la línea, o bájela a lo que falta.
error_invoice_number_taken = Ese número ya está usado.
remedy_invoice_number_taken = Intente de nuevo: se toma el siguiente libre.
error_approval_over_estimate = { $field }: { $asked } es más que los { $total } que suman las líneas aprobadas.
remedy_approval_over_estimate = Deje el límite vacío, o bájelo.
error_approval_of_nothing = Una aprobación hasta 0 no aprueba nada.
remedy_approval_of_nothing = Escriba un límite mayor que 0, o marque todas las líneas como rechazadas.
error_answers_incomplete = No todas las líneas tienen respuesta.
remedy_answers_incomplete = Marque cada línea como aprobada, rechazada o aplazada.
error_no_message_kept = Falta el mensaje del cliente.
remedy_no_message_kept = Escriba sus palabras, o agregue una foto.
error_message_too_long = El mensaje es demasiado largo.
remedy_message_too_long = Acórtelo a { $letters } caracteres.
error_signer_not_named = { $name } no consta en la recepción como alguien que puede aprobar.
remedy_signer_not_named = Si aun así es correcto, active el interruptor y guarde otra vez. Si no, corrija el nombre.
error_already_billed = Esta aprobación ya se cobró.
remedy_already_billed = Haga primero una nota de crédito de la factura.
error_not_in_force = Esa aprobación ya no es la vigente.
remedy_not_in_force = Vuelva a mirar las aprobaciones.
error_handed_over_already = El vehículo ya se entregó.
remedy_handed_over_already = Corrija la factura con una nota de crédito, o abra un trabajo nuevo para trabajo nuevo.
error_credit_not_billed = “{ $description }”: se acredita más de lo cobrado.
remedy_credit_not_billed = Baje la cantidad, o elija otra línea.
error_credit_over_invoice = { $asked } es más que los { $most } que quedan de esta factura.
remedy_credit_over_invoice = Baje las cantidades.
error_credit_tax_differs = El impuesto no es el de la factura.
remedy_credit_tax_differs = Haga la nota de crédito con las líneas de la factura.
error_deposit_over_approved = { $asked } es más que los { $most } pendientes de lo aprobado.
remedy_deposit_over_approved = Baje el anticipo, o pida antes más aprobación.
error_payment_over_due = { $asked } es más que los { $most } que se deben.
remedy_payment_over_due = Escriba lo que se pagó por este trabajo. Si se debe más, haga primero la factura.
error_refund_over_paid = { $asked } es más que los { $most } que puede devolver.
remedy_refund_over_paid = Bájelo. Para devolver dinero de una factura, haga primero su nota de crédito.
error_not_a_day = Eso no es un día.
remedy_not_a_day = Escriba año, mes y día, como 2026-11-28.
error_day_in_future = Ese día aún no ha llegado.
remedy_day_in_future = Escriba el día en que ocurrió.
error_day_before_job = Ese día es anterior a la apertura del trabajo ({ $opened }).
remedy_day_before_job = Revise el día.
error_supplies_not_allowed = Renglón { $line }: las reglas de esta región no permiten un renglón de materiales de taller.
remedy_supplies_not_allowed = Anote lo que se usó como piezas, cada una con su precio, o quite el renglón. Consulte sus reglas locales.
error_too_many_pinned = Ya tiene cuarenta renglones a mano.
remedy_too_many_pinned = Deje ir uno antes.
error_prefixes_alike = Facturas y notas de crédito empezarían igual.
remedy_prefixes_alike = Elija otro inicio para una de las dos.
error_approval_before_estimate = La respuesta sería anterior a la versión { $version } del presupuesto, que se guardó { $moment }.
remedy_approval_before_estimate = Corrija el día y la hora de la respuesta, o déjelos vacíos para ahora.
error_time_in_future = { $field }: todavía no llega.
remedy_time_in_future = Escriba cuándo fue, o déjelo vacío para ahora.
error_estimate_not_written = Las reglas de esta región piden el presupuesto por escrito antes del primer sí por teléfono.
remedy_estimate_not_written = Envíelo por mensaje de texto o correo, o entréguelo en papel, y guarde que lo hizo; o pida la firma en persona. Consulte sus reglas locales.
error_estimate_not_written_or_waived = Las reglas de esta región piden el presupuesto por escrito antes del primer sí por teléfono, salvo que el cliente renuncie a él.
remedy_estimate_not_written_or_waived = Envíelo por mensaje de texto o correo, o entréguelo en papel, y guarde que lo hizo; pida la firma en persona; o que el cliente renuncie por escrito. Consulte sus reglas locales.
error_estimate_expired = La versión { $version } del presupuesto valía hasta { $until }.
remedy_estimate_expired = Guarde una versión nueva, con los mismos renglones si aún valen, y pregunte otra vez. Aquí no se cuentan los días festivos: consulte sus reglas locales.
error_waiver_not_written = Una renuncia por teléfono no vale: tiene que ser por escrito.
remedy_waiver_not_written = Pida la firma en persona, o un mensaje de texto o correo.
error_no_waiver_here = Las reglas conocidas de esta región no prevén la renuncia al presupuesto escrito.
remedy_no_waiver_here = Entregue al cliente el presupuesto por escrito. Consulte sus reglas locales.
error_already_waived = Ya se renunció al presupuesto escrito.
remedy_already_waived = Vea la renuncia en esta pantalla.
error_invoice_was_replaced = Otra factura tomó el lugar de esta: ya no cuenta.
remedy_invoice_was_replaced = Haga la nota de crédito sobre la que tomó su lugar.
error_no_seller_number = Falta el { $number ->
    [vat] número de IVA (VAT)
    [gst_hst] número de GST/HST
    [nif] NIF
    [rfc] RFC
   *[none] número fiscal
} de su taller. Las reglas de esta región lo piden en la factura.
remedy_no_seller_number = Escríbalo en Ajustes, en «Taller, tarifa e impuesto», y guarde esto otra vez. Consulte sus reglas locales.
error_bill_tax_differs = El impuesto no es el del presupuesto aprobado.
remedy_bill_tax_differs = Empiece la factura otra vez con las líneas aprobadas.
error_no_registration_number = Falta el número de registro del taller. Las reglas de esta región lo piden en presupuestos y facturas.
remedy_no_registration_number = Escríbalo en Ajustes, en «Taller, tarifa e impuesto», y guarde esto otra vez. Consulte sus reglas locales.
error_provider_not_disclosed = { $provider } programa el módulo, pero ningún presupuesto aprobado lo nombra.
remedy_provider_not_disclosed = Haga un presupuesto nuevo con un renglón de trabajo de terceros que nombre a { $provider } y consiga antes la aprobación. Consulte sus reglas locales.
error_old_parts_unanswered = No está anotado qué pasó con las piezas viejas.
remedy_old_parts_unanswered = Escriba si el cliente se las llevó, no las quiso, o si se devolvieron como casco. Consulte sus reglas locales.
error_keeps_years_below_law = Las reglas de esta región piden guardar los registros al menos { $years } años.
remedy_keeps_years_below_law = Escriba { $years } o más, o deje el campo vacío.
error_no_appointment = Todavía no hay una cita con fecha y hora.
remedy_no_appointment = Elija la fecha y la hora, y guarde la decisión.
error_voltage_line = La línea { $line } no es minutos y voltios: “{ $value }”
remedy_voltage_line = Escriba los minutos desde que empezó, un espacio y los voltios: 12 13.4
error_sample_broken = No se puede mostrar el trabajo de muestra.
remedy_sample_broken = Es un fallo de la aplicación: avísenos, por favor. Su propio taller no sufrió ningún daño.
