### Proof of the fix, hand-over, report and packet.

proof_why = La lectura que falló, repetida en los mismos puntos y en el mismo estado.
proof_before = Antes
proof_after = Después
proof_pick_before = La lectura que falló
proof_pick_after = La misma lectura después de reparar
proof_photo = Foto de la reparación
proof_note = Prueba de manejo, códigos borrados y leídos de nuevo
proof_keep = Guardar este par
proof_repeat = Mida esto otra vez
proof_repeated = Medido otra vez: compare los dos valores
proof_repeat_now = Medirlo otra vez
proof_few = Hacen falta dos lecturas: una antes de reparar y otra después.
hand_over_warranty = Condiciones de garantía
hand_over_months = Garantía, meses desde hoy
hand_over_distance = Garantía, { $unit }
hand_over_odometer = Odómetro ahora, { $unit }
hand_over_until = Hasta el { $day }
hand_over_until_odometer = Hasta { $odometer } { $unit }
hand_over_old_parts = Qué pasó con las piezas viejas
hand_over_photo = Foto de la entrega
hand_over_keep = Guardar la entrega
hand_over_done = Entregado { $time }
report_title = Informes y declaraciones
report_write = Hacer el informe
report_language = Idioma del informe
packet_title = Paquete
packet_why = Todo este trabajo en un archivo que cualquiera puede revisar sin nosotros.
packet_write = Hacer el paquete
packet_check = Revisarlo otra vez
file_where = Ubicación
file_size = { $kilobytes } KB
work_running = { $what }: { $done } de { $total }
work_cancel = Parar
work_unexpected = Trabajando
work_report = Haciendo el informe
work_packet = Haciendo el paquete
work_originals = Leyendo las fotos
work_pictures = Preparando las imágenes
work_typesetting = Componiendo las páginas
work_verify = Revisando
verify_counts = Revisados: { $records ->
    [one] { $records } registro
   *[other] { $records } registros
} y { $photos ->
    [one] { $photos } foto
   *[other] { $photos } fotos
}
verify_proven = Probado
verify_not_proven = No probado con esta revisión
verify_strange = Extraño, y se deja como está
verify_key = Firmado por la llave con esta huella. Compárela con la que se entregó al aprobar:
