### Cautions: one text each, on the screens, in the report and on the command line.

caution_battery = Battery: rings and watch off, eye protection on. Ground clamp off first, back on last. A tool across the posts can burn you, and the gas from a charging battery can explode.
caution_cranking = Cranking: park or neutral, parking brake on, wheels chocked. Hands, sleeves and leads clear of belts and fans. Disable fuel or ignition if the engine must not start. Agree on a stop word with the person at the key, who must be able to hear you.
caution_jumping_a_pin = Jumping a pin: only one whose function is proven, with a fused jumper. Never across a module’s driver before its power and ground are proven, and never with more load than that output normally carries.
caution_air_bag = Air bags and pretensioners (yellow connectors): no probing, no test light. Disconnect, and wait as long as the manufacturer says, before you work near them.
caution_fuel_vapour = Fuel vapor burns: no sparks, no hot lamps, no smoking, good ventilation, a fire extinguisher at hand. Lines may be under pressure; relieve it as the manufacturer says before you open them.
caution_high_voltage = High voltage (orange cables, above 60 V DC or 30 V AC): stop here unless you are trained and equipped for it and the system is proven de-energized.
caution_module_handling = Handling a module: disconnect the battery before you unplug it. Touch bare ground first and keep off the pins. Presets, radio codes and learned values may be lost; note them first.
caution_moving_parts = Moving parts: fans, belts and motors can start at any moment, some even with the key off. Keep hands, hair, sleeves and leads clear.
caution_comes_first = The manufacturer’s service information, local codes and a licensed technician’s judgment come first.
caution_unexpected = Follow the manufacturer’s caution for this step.
