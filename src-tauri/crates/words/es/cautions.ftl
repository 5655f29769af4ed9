### Cautions: one text each, on the screens, in the report and on the command line.

caution_battery = Batería: quítese anillos y reloj, y póngase protección para los ojos. La pinza de masa se suelta primero y se conecta al final. Una herramienta entre los bornes puede quemarle, y el gas de una batería en carga puede explotar.
caution_cranking = Arranque: en estacionamiento o neutral, freno de mano puesto, ruedas calzadas. Manos, mangas y cables lejos de correas y ventiladores. Anule combustible o encendido si el motor no debe arrancar. Acuerde una palabra de alto con quien gira la llave, que debe poder oírle.
caution_jumping_a_pin = Puentear un pin: solo uno cuya función esté comprobada, y con un cable con fusible. Nunca sobre la salida de un módulo sin haber comprobado su alimentación y su masa, ni con más carga de la que esa salida lleva normalmente.
caution_air_bag = Bolsas de aire y pretensores (conectores amarillos): no los mida ni les conecte una lámpara de prueba. Desconecte, y espere lo que indique el fabricante, antes de trabajar cerca.
caution_fuel_vapour = El vapor de combustible arde: sin chispas, sin lámparas calientes, sin fumar, con buena ventilación y un extintor a mano. Las líneas pueden tener presión; descárguela como indica el fabricante antes de abrirlas.
caution_high_voltage = Alta tensión (cables naranjas, más de 60 V CC o 30 V CA): deténgase aquí si no tiene formación y equipo para ella y no ha comprobado que el sistema está sin tensión.
caution_module_handling = Manejo de un módulo: desconecte la batería antes de desenchufarlo. Toque primero una masa limpia y no toque los pines. Se pueden perder ajustes, códigos de radio y valores aprendidos; anótelos antes.
caution_moving_parts = Piezas en movimiento: ventiladores, correas y motores pueden arrancar en cualquier momento, algunos aun sin la llave. Mantenga lejos manos, pelo, mangas y cables.
caution_comes_first = La información de servicio del fabricante, las normas locales y el criterio de un técnico con licencia van primero.
caution_unexpected = Siga la precaución del fabricante para este paso.
