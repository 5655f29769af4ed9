### First start, device, settings, list of jobs.

first_title = Su taller
first_over = Configuración
first_why = Estos nombres aparecen en cada registro y en cada informe. Puede cambiarlos después; los registros anteriores conservan los suyos.
shop_name = Nombre del taller
technician = Su nombre
region = Estado o región, para las reglas de aprobación
region_pick = Elija un estado o región
rules_margin = Margen sobre el total aprobado: { $percent }%
rules_no_margin = Sin margen sobre el total aprobado.
rules_written = Se exige presupuesto por escrito.
rules_years = Los registros se guardan { $years ->
    [one] { $years } año
   *[other] { $years } años
}.
rules_sources = De dónde viene esto
registration = Número de registro del taller
labour_rate = Tarifa de mano de obra por hora
tax_percent = Impuesto sobre ventas, en por ciento
set_up = Crear la llave y empezar
device_title = La llave de este teléfono
device_why = Esta llave firma lo que usted guarda. Cada cliente ve su huella al aprobar, para que nadie pueda cambiar la llave después.
fingerprint = Huella
fingerprint_words = Huella en palabras
fingerprint_qr = Huella como código QR
protection = Cómo se protege la llave
protection_owner_only_file = En un archivo que solo esta aplicación puede leer.
protection_passphrase = En un archivo que solo esta aplicación puede leer, cifrado con su frase de contraseña.
protection_hardware = En el almacén seguro de llaves del teléfono.
protection_no_key = Sin llave
to_jobs = Ir a los trabajos

jobs_title = Trabajos
jobs_search = Buscar un trabajo
jobs_search_hint = Vehículo, cliente, teléfono, placa, VIN, queja o número de trabajo
jobs_filter = Mostrar solo
jobs_all = Todos
jobs_all_again = Mostrar todos los trabajos
jobs_none_here = Ahora no hay ningún trabajo aquí.
jobs_none = Aún no hay trabajos
jobs_none_first = Toque “Trabajo nuevo”. Anote primero la queja con las palabras del cliente; después, el vehículo.
jobs_no_match = Ningún trabajo tiene todas estas palabras.
jobs_count = Trabajos a la vista: { $count } de { $total }
jobs_count_more = Trabajos a la vista: { $count } de más de { $total }
job_new = Trabajo nuevo
job_number = Trabajo { $number }
vehicle_unknown = Vehículo aún sin anotar
settings = Ajustes

settings_title = Ajustes
language = Idioma
language_en = English
language_es = Español
theme = Luz
theme_light = Claro (al aire libre)
theme_dark = Oscuro
theme_system = Igual que el teléfono
hand = Mano que sostiene el teléfono
hand_right = Derecha
hand_left = Izquierda
text_size = Tamaño del texto
text_size_percent = { $size } %
vibration = Vibrar cuando algo se guarda o falla
shop_change = Taller, tarifa e impuesto
settings_kept = Los cambios se guardan al momento.

stage_intake = recepción
stage_measuring = pruebas
stage_finding = hallazgo
stage_estimate = presupuesto
stage_approved = aprobado
stage_repair = reparación
stage_proof = arreglo probado
stage_invoiced = facturado
stage_handed_over = entregado
waiting_customer = en espera del cliente
waiting_part = en espera de una pieza
waiting_appointment = en espera de una cita

jobs_more = Mostrar más (quedan { $count })
jobs_more_than = Mostrar más (quedan más de { $count })

source_text_read = leímos la regla misma
source_described_by_others = la describe una oficina o revista; no leímos la regla misma
source_from_memory = de memoria: búsquela antes de confiar en ella
source_common_practice = práctica común, sin fuente

year_title = Su año
year_why = Contado solo de los registros. Cada cosa cuenta en el año de su propio registro.
year_earlier = { $year }: el año anterior
year_later = { $year }: el año siguiente
year_opened = Trabajos abiertos
year_closed = Trabajos entregados
year_hours = Horas de mano de obra facturadas
year_agreed = Aprobado por los clientes
year_billed = Facturado
year_paid = Pagado
year_comebacks = Vehículos que volvieron
year_warranty = Reclamos de garantía
year_modules_bought = Módulos comprados
year_modules_spared = Módulos no comprados, porque se encontró otra causa
year_without_price = De estos, sin precio registrado
year_spared_why = Un módulo estaba en un presupuesto, lo pidió el cliente o usted le puso precio, y el hallazgo señaló otra pieza. Solo se suman precios que alguien anotó.
year_spared_job = Trabajo { $number }
year_from_declined = en un presupuesto que no se hizo
year_from_typed = anotado por usted para este trabajo
year_no_price = sin precio registrado
