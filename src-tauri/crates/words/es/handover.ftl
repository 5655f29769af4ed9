### Proof of the fix, hand-over, report and packet.

proof_why = La lectura que falló, repetida en los mismos puntos y en el mismo estado.
proof_before = Antes
proof_after = Después
proof_pick_before = La lectura que falló
proof_pick_after = La misma lectura después de reparar
proof_photo = Foto de la reparación
proof_note = Prueba de manejo, códigos borrados y leídos de nuevo
proof_keep = Guardar este par
proof_few = Hacen falta dos lecturas: una antes de reparar y otra después.
hand_over_warranty = Condiciones de garantía
hand_over_old_parts = Qué pasó con las piezas viejas
hand_over_photo = Foto de la entrega
hand_over_keep = Guardar la entrega
hand_over_done = Entregado { $time }
report_title = Informe de hallazgos
report_why = Una página en palabras sencillas; luego cada lectura con foto y huella.
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
work_verify = Revisando
verify_good = Todo está en orden
verify_bad = Rechazado
verify_counts = Revisados: { $records ->
    [one] { $records } registro
   *[other] { $records } registros
} y { $photos ->
    [one] { $photos } foto
   *[other] { $photos } fotos
}
verify_proven = Probado
verify_not_proven = No probado con esta revisión
verify_key = Firmado por la llave con esta huella. Compárela con la que se entregó al aprobar:
proven_clock = El reloj del dispositivo corrió sin saltos
proven_fork = No hay una segunda historia de este diario
proven_container = El archivo está exactamente como se escribió
proven_manifest = Cada archivo coincide con la lista de archivos
proven_signature = Firmado por la llave nombrada aquí
proven_timestamp = Existía a la hora de su sello de tiempo
proven_chain = Ningún registro se cambió, se agregó ni se quitó desde que se selló
proven_other_logs = Coincide con lo que otros dispositivos del trabajo habían visto
proven_photo = Cada foto coincide con su registro
proven_redaction = Cada foto cubierta es la que nombra su registro, y el original sigue sellado
proven_stripped = Cada copia limpia es la que nombra su registro, y el original sigue sellado
proven_report = El informe es el de los registros
proven_disclosure = Cada nombre y texto mostrado coincide con su registro
proven_key = La llave es la que usted indicó
proven_tail = No se cortó nada desde el punto de control que usted indicó
proven_texts = Los textos de ayuda incluidos son conocidos
open_truth = Que sea verdad: un sello no dice qué tan bien se midió
open_timestamp = La hora: viene del reloj de este mismo teléfono
open_key = De quién es la llave: una llave que solo llega con el paquete no prueba nada
open_tail = Que no falte nada al final: compare con el punto de control entregado al aprobar
open_other_logs = Qué guardan otros dispositivos del trabajo
open_photo = Fotos que no están en el paquete
open_redaction = Que en una foto cubierta no se cambió nada más que las zonas cubiertas
open_stripped = Que una copia limpia tenga los píxeles de su original: compárelas donde esté el original
open_photo_missing = Fotos que el taller dice que ya no tiene
open_report = El informe
open_disclosure = Lo que se dejó fuera del paquete
open_texts = El programa incluido: es una comodidad, nunca evidencia
open_container = El archivo en conjunto
open_manifest = La lista de archivos
open_signature = La firma
open_chain = La cadena de registros
