### Words every screen uses.

app = Testimeter
back = Atrás
hand_zone = Al alcance del pulgar
keeping = Guardando…
kept_at = guardado { $time }
not_taken = No se aceptó:
for_the_log = Para el registro
from_files = De archivos
photo = Tomar foto
photo_of = { $purpose }, guardada { $time }
no_preview = Guardada. Este tipo de imagen no tiene vista previa.
signature_box = Recuadro para firmar con el dedo
sign_again = Firmar de nuevo
loading = Cargando…
none = ninguno
yes = sí
no = no
unknown = no se sabe
change = Editar
done = Listo
remove = Quitar
optional = opcional
maker_first = { caution_comes_first }
check_rules = Consulte sus reglas locales.
unchanged_not_true = «Sin cambios desde que esta llave lo selló» se puede probar. «Verdadero» no: un sello no dice qué tan bien se midió.

purpose_arrival = Vehículo como llegó
purpose_identity = Etiqueta del VIN u odómetro
purpose_pin_out = Conector o cable
purpose_reading = Medidor
purpose_part = Pieza o recibo
purpose_programming = Programación
purpose_repair = Reparación o entrega

doubt_contradiction = Estas lecturas no pueden ser ciertas las dos.
doubt_no_cause_fits_all = Ninguna causa sola explica todas las lecturas.
doubt_not_in_this_circuit = Ninguna causa de este circuito puede dar esta lectura.
doubt_not_weighed = Esta lectura no se puede usar; el diagnóstico sigue sin ella.
doubt_clock_jumped = El reloj se cambió mientras el dispositivo estaba encendido.
doubt_clock_set_back = El reloj se atrasó respecto a la entrada anterior.
doubt_capture_time_far_from_clock = La hora de la cámara y la del dispositivo difieren en más de un minuto.
doubt_capture_time_in_future = La hora de la cámara es posterior a la hora en que se guardó la foto.
doubt_no_capture_time = La foto no trae hora propia.
doubt_repeat = Repita la lectura { $number }.
doubt_about = Lecturas { $numbers }.

likelihood_almost_certain = casi seguro
likelihood_very_likely = muy probable
likelihood_likely = probable
likelihood_about_as_likely_as_not = cerca de 50/50
likelihood_unlikely = poco probable
likelihood_very_unlikely = muy poco probable
likelihood_practically_ruled_out = prácticamente descartado
record_kept_at = en el registro, { $time }
draft_saved = borrador guardado
