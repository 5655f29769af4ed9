### A diagnosis in sentences, on the command line. What the screens say as well is said with their words.

cli_state_unknown = Lectura { $reading }: falta { $what }. Se pesan todas las posiciones; escriba cuál era y la lectura dirá más.
cli_state_of_test = Lectura { $reading }: { $what } como lo pide su prueba.
cli_remaining = Queda: { $cause } ({ $percent })
cli_pair = Dos fallas a la vez: { $causes } ({ $percent })
cli_unmodelled = { causes_other } ({ $percent })
cli_ground_raised = La lectura { $reading } es la que más la hizo subir ({ $times } veces, log-verosimilitud { $log }).
cli_ground_lowered = La lectura { $reading } es la que más la hizo bajar ({ $times } veces, log-verosimilitud { $log }).
cli_ruled_out = Descartada: { $cause }, por la lectura { $reading } (bajó { $times } veces).
cli_open_fuse = { open_fuse_title } ({ $fuse }): encuentre qué lo fundió. { open_fuse_how }
cli_module_may = { $module }: se puede señalar como causa ({ $percent })
cli_module_may_not = { $module }: no probado ({ $percent })
cli_overturn = Qué lo cambiaría: que { $test } muestre { $result } (probabilidad { $chance }); entonces { $about } quedaría en { $after }, y { $leading } iría adelante.
cli_any_value = cualquier valor
cli_doubt = { $doubt } ({ $readings })
cli_and = { $first } y { $last }
cli_pins = Pines: { $pins } ({ $percent })
cli_next = Siguiente: { $test } ({ $minutes } min; la búsqueda dura entonces unos { $all } min en total).
cli_buy_test = Seguir probando sale { $by } más barato que cambiar { $module } (se esperan { $test } frente a { $buy }).
cli_buy_buy = Solo por dinero, cambiar { $module } sale { $by } más barato (se esperan { $buy } frente a { $test }); decide lo probado arriba.
