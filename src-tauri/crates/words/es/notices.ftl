### What was found while the data folder was opened, each with what to do.

notice_database_moved_aside = La base de datos estaba dañada y se apartó, sin borrarla: { $path }
notice_database_moved_aside_remedy = No se borró nada. Revise sus trabajos más recientes, haga hoy una copia de respaldo y haga revisar el almacenamiento del teléfono.
notice_database_rebuilt = La base de datos se reconstruyó con los diarios y las fotos. Registros: { $records }. Perdidos: { $lost }
notice_database_rebuilt_remedy = Los registros sellados están de vuelta. Revise los ajustes y los formularios sin terminar: quizá haya que escribirlos otra vez.
notice_log_damaged = Una parte del diario de un trabajo está dañada.
notice_log_damaged_remedy = No borre nada. Revise su última copia de respaldo: si el trabajo está completo ahí, recupérelo de ella.
notice_records_recovered = Se recuperaron del diario registros que faltaban en la base de datos: { $records }.
notice_records_recovered_remedy = No hay nada que hacer: están de vuelta en sus trabajos.
notice_journal_differs = El diario y la base de datos no coinciden en un registro. El diario se apartó: { $path }
notice_journal_differs_remedy = Se conservaron ambos. No agregue nada a este trabajo; revise su paquete y compárelo con su última copia de respaldo.
notice_journal_behind = Los registros más nuevos no se pudieron escribir en el diario junto a la base de datos.
notice_journal_behind_remedy = Están a salvo en la base de datos. Libere espacio, abra la aplicación de nuevo y haga una copia de respaldo.
notice_forgetting_finished = El borrado de los datos de un cliente se interrumpió y ya se terminó.
notice_forgetting_finished_remedy = No hay nada que hacer. Las copias entregadas antes y los respaldos viejos aún contienen los datos.
notice_leftovers_swept = Se quitaron archivos a medio guardar de una interrupción: { $files }.
notice_leftovers_swept_remedy = Si tomó una foto justo antes de que se cerrara la aplicación, compruebe que esté.
notice_record_unusable = El registro { $number } de este trabajo no se puede usar.
notice_record_unusable_remedy = Queda en el registro, y todo lo demás sigue. Capture otra vez lo que decía, y actualice la aplicación si hay una versión más nueva.
notice_read = Ya lo leí
notice_job = Ir al trabajo
notice_unexpected = Algo pasó con los datos de este taller.
notice_unexpected_remedy = No borre nada. Actualice la aplicación y conserve su copia de respaldo.
notice_checkpoint_not_signed = Un registro se guardó, pero no se pudo firmar.
notice_checkpoint_not_signed_remedy = Abra la llave en Ajustes, La llave de este teléfono. El próximo informe o paquete lo firma también.
notice_circuit_unusable = El circuito de este trabajo no se puede usar.
notice_circuit_unusable_remedy = Las lecturas se guardan sin razonamiento. Actualice la aplicación o elija un circuito de nuevo.
