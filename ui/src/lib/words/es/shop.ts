import type { shop as english } from '../en/shop';

export const shop: Record<keyof typeof english, string> = {
  first_title: 'Su taller',
  first_over: 'Primer inicio',
  first_why:
    'Estos nombres quedan en cada registro y en cada informe. Puede cambiarlos después; los registros anteriores conservan los suyos.',
  shop_name: 'Nombre del taller',
  technician: 'Su nombre',
  region: 'Estado, para las reglas de aprobación',
  region_pick: 'Elija un estado',
  region_other: 'Desconocido aquí: sin margen',
  rules_margin: 'Margen sobre el total aprobado: {percent} %',
  rules_no_margin: 'Sin margen sobre el total aprobado.',
  rules_written: 'Se exige presupuesto por escrito.',
  rules_years: 'Los registros se guardan {years} años.',
  rules_sources: 'De dónde viene esto',
  registration: 'Número de registro del taller',
  labour_rate: 'Tarifa de mano de obra por hora',
  tax_percent: 'Impuesto sobre ventas, en por ciento',
  set_up: 'Crear la llave y empezar',
  device_title: 'La llave de este teléfono',
  device_why:
    'Esta llave firma lo que usted guarda. Su huella se muestra a cada cliente al aprobar, para que nadie pueda cambiar la llave después.',
  fingerprint: 'Huella',
  fingerprint_words: 'Huella en palabras',
  fingerprint_qr: 'Huella como código QR',
  protection: 'Cómo se protege la llave',
  protection_owner_only_file: 'En un archivo que solo puede leer el usuario de esta aplicación.',
  protection_passphrase: 'Un archivo que solo esta aplicación puede leer, cifrado con su frase de contraseña',
  protection_hardware: 'El almacén de llaves del teléfono',
  protection_no_key: 'Sin llave',
  to_jobs: 'A los trabajos',

  jobs_title: 'Trabajos',
  jobs_search: 'Buscar un trabajo',
  jobs_search_hint: 'Vehículo, cliente, VIN, queja o número',
  jobs_none: 'Aún no hay trabajos. Reciba el primer vehículo.',
  jobs_no_match: 'Ningún trabajo tiene todas estas palabras.',
  jobs_count: 'Trabajos a la vista: {count} de {total}',
  jobs_more: 'Mostrar más (quedan {count})',
  job_new: 'Recibir un vehículo',
  job_number: 'Trabajo {number}',
  vehicle_unknown: 'Vehículo aún sin anotar',
  settings: 'Ajustes',

  notice_read: 'Lo he leído',
  notice_job: 'Al trabajo',
  notice_database_moved_aside: 'La base de datos no se podía leer. Se apartó, no se borró: {path}',
  notice_database_moved_aside_remedy:
    'Conserve ese archivo. Revise la lista de trabajos; si falta uno, use su copia de respaldo.',
  notice_database_rebuilt:
    'La base de datos se rehízo a partir de los registros sellados. Registros: {records}. Perdidos: {lost}',
  notice_database_rebuilt_remedy:
    'Revise la lista de trabajos. Lo perdido está en su copia de respaldo; puede que haya que escribir de nuevo borradores y ajustes.',
  notice_log_damaged: 'Una serie de registros está dañada desde cierto lugar.',
  notice_log_damaged_remedy:
    'No borre nada. Lo anterior a ese lugar sigue valiendo; el resto está en su copia de respaldo.',
  notice_records_recovered: 'Se recuperaron del diario registros que faltaban en la base de datos: {records}',
  notice_records_recovered_remedy: 'No hay que hacer nada. Mire el trabajo si estaba en él.',
  notice_journal_differs:
    'El diario y la base de datos no dicen lo mismo de un registro. El diario se apartó: {path}',
  notice_journal_differs_remedy:
    'No se sobrescribió nada. No borre nada y compare con su copia de respaldo o con un paquete que haya entregado.',
  notice_journal_behind: 'Al diario le faltan registros que la base de datos tiene.',
  notice_journal_behind_remedy:
    'Se escriben allí de nuevo. Vea que haya espacio y escriba una copia de respaldo.',
  notice_forgetting_finished: 'El olvido de un cliente se había interrumpido. Ya está terminado.',
  notice_forgetting_finished_remedy:
    'No hay que hacer nada. La línea de tiempo del trabajo dice qué se destruyó.',
  notice_leftovers_swept: 'Se quitaron archivos que quedaron de tareas interrumpidas: {files}',
  notice_leftovers_swept_remedy:
    'Ninguno era un registro. Si se estaba escribiendo un informe, un paquete o una copia, escríbalo de nuevo.',
  notice_record_unusable: 'El registro {number} de este trabajo no se puede usar.',
  notice_record_unusable_remedy:
    'El trabajo se muestra sin él; el registro queda como está. Compare el trabajo con su copia de respaldo.',
  notice_checkpoint_not_signed: 'Un registro se guardó, pero no se pudo firmar.',
  notice_checkpoint_not_signed_remedy:
    'Abra la llave en Ajustes, La llave de este teléfono. El próximo informe o paquete lo firma también.',
  notice_circuit_unusable: 'El circuito de este trabajo no se puede usar.',
  notice_circuit_unusable_remedy:
    'Las lecturas se guardan sin razonamiento. Actualice la aplicación o elija un circuito de nuevo.',
  notice_unexpected: 'Algo pasó con los datos de este taller.',
  notice_unexpected_remedy: 'No borre nada. Actualice la aplicación y conserve su copia de respaldo.',

  settings_title: 'Ajustes',
  language: 'Idioma',
  language_en: 'English',
  language_es: 'Español',
  theme: 'Luz',
  theme_light: 'Claro (al aire libre)',
  theme_dark: 'Oscuro',
  theme_system: 'Como el teléfono',
  hand: 'Mano que sostiene el teléfono',
  hand_right: 'Derecha',
  hand_left: 'Izquierda',
  vibration: 'Vibrar cuando algo se guardó o falló',
  shop_change: 'Taller, tarifa e impuesto',
  settings_kept: 'Lo que elija se guarda al momento.',

  stage_intake: 'recibiendo',
  stage_measuring: 'midiendo',
  stage_finding: 'hallazgo',
  stage_estimate: 'presupuesto',
  stage_approved: 'aprobado',
  stage_repair: 'reparación',
  stage_proof: 'arreglo probado',
  stage_invoiced: 'facturado',
  stage_handed_over: 'entregado',
};
