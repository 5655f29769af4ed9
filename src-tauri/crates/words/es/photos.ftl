### Fotos que se miran.

viewer_open = Ver la foto: { $photo }
viewer_close = Cerrar la foto
viewer_place = { $place } de { $count }
viewer_before = Foto anterior
viewer_after = Foto siguiente
viewer_larger = Acercar
viewer_smaller = Alejar
viewer_full_size = Cargando la foto en tamaño completo…
viewer_saved = Guardada { $time }
viewer_taken = Hora de la cámara: { $time }
viewer_live = Tomada con la cámara de la aplicación
viewer_reading = Lectura { $number }
viewer_not_counted = corregida o retirada
viewer_about = Sobre esta foto
viewer_size = { $width } × { $height } píxeles, { $size }
viewer_fingerprint = Huella (SHA-256)
viewer_unchanged = El original nunca se cambia. Su huella está en los registros.

viewer_compare = Comparar antes y después

photos_title = Fotos
photos_filter = ¿Qué fotos?
photos_all = Todas: { $count }
photos_loose = En ningún informe ni paquete: { $count }
photos_none = Todavía no hay fotos.
photos_none_loose = Cada foto está en un informe o en un paquete.
photos_doubts = Dudas: { $count }
photos_step_intake = Recepción
photos_step_readings = Lecturas y conectores
photos_step_proof = Reparación y prueba
photos_step_papers = Piezas y programación

marks_title = Marcar una foto
marks_why = Las marcas se guardan aparte de la foto y se dibujan en copias: en los informes, y junto a la foto en los paquetes. El original se queda como está.
marks_open = Marcarla
marks_hide = Ocultar marcas
marks_show = Mostrar marcas
marks_tool = Qué dibujar
mark_tool_arrow = Flecha
mark_tool_ellipse = Círculo
mark_tool_text = Texto
mark_tool_move = Mover
marks_tone = Color
mark_tone_cold = Azul: mal
mark_tone_lamp = Amarillo: bien
mark_tone_ink = Negro
marks_text = Texto de esta marca
marks_text_hint = Una línea, 60 caracteres como máximo. Sale con la foto.
marks_undo = Deshacer
marks_remove = Quitar
marks_list = Marcas en lista
marks_keys = Sin usar el dedo: agregue una marca y muévala con las flechas del teclado. Con Alt se mueve su extremo; con Mayús, pasos más largos. Suprimir la quita.
marks_add = Agregar una en el centro
marks_keep = Guardar las marcas
marks_done = Las marcas están guardadas. Se ven en los informes y junto a la foto en los paquetes.
marks_no_preview = Este tipo de imagen no se puede mostrar aquí, así que no se puede marcar.
