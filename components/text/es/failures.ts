export const failure = {
  'storage-full':
    'En este dispositivo ya no queda sitio. Todo lo guardado antes está a salvo. Libere espacio, o escriba un paquete, y guarde de nuevo.',
  'storage-failed':
    'El almacén de este dispositivo no admitió lo escrito. Todo lo guardado antes está a salvo. Inténtelo otra vez; si vuelve a fallar, cierre la aplicación y ábrala de nuevo.',
  'storage-unreadable':
    'No se puede leer el almacén de este dispositivo. No se cambió nada. Cierre la aplicación y ábrala de nuevo.',
  'storage-unavailable':
    'Este navegador no deja que la aplicación guarde nada aquí. No se cambió nada. Salga de la navegación privada, o permita que esta página guarde datos, y abra la aplicación otra vez.',
  'newer-store':
    'Una versión posterior de la aplicación guardó aquí. No se cambió ni se borró nada. Cierre la aplicación, ábrala otra vez con red y quedará al día.',
  'catalogue-rebuilt':
    'El catálogo de sillas de este dispositivo estaba dañado y se rehízo con lo que se pudo leer. Los casos están a salvo. Encuéntrese con alguien del equipo o lea un paquete para tenerlo completo.',
  'catalogue-altered':
    'Algo ajeno a esta aplicación cambió el catálogo de sillas de este dispositivo. Lo cambiado se apartó. Los casos están a salvo. Encuéntrese con alguien del equipo para tenerlo completo.',
  'store-restored':
    'El navegador había perdido el almacén de este dispositivo. Se repuso entero a partir de la segunda copia: no falta nada. Páselo todo pronto a alguien del equipo, o escriba un paquete.',
  'no-second-copy':
    'Este dispositivo no puede guardar ahora su segunda copia, quizá por falta de sitio. Lo guardado está a salvo, pero si el navegador lo pierde aquí no hay otra copia. Libere espacio, cierre la aplicación y ábrala de nuevo; hasta entonces páselo todo cada día.',
  'wrong-passphrase':
    'Esta frase de acceso no abre el libro de casos. Todo lo guardado está a salvo y nadie lo tocó. Inténtelo otra vez; las mayúsculas cuentan.',
  'short-passphrase':
    'La frase de acceso necesita al menos {count} letras o signos. Mejor seis palabras. No se cambió nada.',
  'lock-unreadable':
    'No se puede leer el cierre de este almacén: está dañado, o lo escribió una versión posterior de la aplicación. No se cambió nada. Actualice la aplicación; si no ayuda, dé de baja este dispositivo e invítelo de nuevo.',
  'not-a-device-key':
    'No se puede leer la llave de este dispositivo, así que aquí no se puede abrir nada. No se cambió nada. Dé de baja este dispositivo desde otro del equipo e invítelo de nuevo.',
  'already-set-up': 'Este dispositivo ya está preparado. No se cambió nada. Ábralo con su frase de acceso.',
  'not-set-up':
    'Este dispositivo todavía no está preparado, así que no hay nada que abrir. Elija primero una frase de acceso.',
  'not-practice': 'Este almacén contiene casos reales y no se abre para practicar. No se cambió nada.',
  'no-casebook': 'En este almacén no hay ningún libro de casos. Cree uno o únase a uno.',
  'casebook-exists': 'Este almacén ya contiene un libro de casos. Se dejó como está; ábralo.',
  'nothing-said': 'Todavía no hay nada que guardar.',
  'unknown-field': 'Esta versión de la aplicación no conoce esa pregunta. Actualice la aplicación.',
  'invalid-value': 'Una respuesta no se puede aceptar tal como está: {field}.',
  'unknown-case': 'Ese caso no está en este dispositivo.',
  held: 'Una silla no se puede anotar como entregada mientras algo lo impida. Lo que lo impide aparece junto a la entrega; resuélvalo primero.',
  visitor: 'Este dispositivo mira como visitante y no puede anotar.',
  'not-in-crew': 'Este dispositivo todavía no es del equipo: encuéntrese primero con quien le invitó.',
  'hidden-case': 'Alguien del equipo pidió borrar este caso; está oculto y no admite nada.',
  'erased-case': 'Dos personas del equipo borraron este caso y ya no admite nada.',
  'unknown-device': 'Ese dispositivo no es del equipo. No se cambió nada.',
  'own-device': 'Un dispositivo no puede darse de baja a sí mismo; tiene que hacerlo otro del equipo.',
  'let-this-in':
    'Ese dispositivo admitió a este en el equipo: si se diera de baja desde aquí, este quedaría también fuera. No se cambió nada. Tiene que darlo de baja otro del equipo al que no haya admitido él.',
  'too-long': 'Es demasiado para una sola anotación. Escríbalo en varias.',
  'photo-not-agreed':
    'Nadie ha aceptado que se tomen fotos, o se retiró el permiso. No se guardó nada; pregunte primero.',
  'photo-removed': 'Esta misma foto se quitó de este caso y no vuelve.',
  'unknown-photo': 'Este caso no menciona esa foto. No se guardó.',
  'rules-failed':
    'Para una persona no se pudo calcular lo que se sigue de lo anotado. Lo guardado está a salvo. Actualice la aplicación; si no ayuda, avise al equipo.',
  'secret-unreadable':
    'En este dispositivo no se puede leer el secreto de este libro de casos. Los casos están a salvo. Encuéntrese con alguien del equipo: entonces llegará de nuevo.',
  'entry-refused':
    'Lo escrito no es válido: está mal firmado o mal dirigido, y eso es un fallo de la aplicación. Cierre la aplicación, ábrala de nuevo y guarde otra vez.',
  'not-a-bundle': 'Este archivo no es un paquete. Nada ha cambiado. Elija otro archivo.',
  'newer-format':
    'Este paquete lo hizo una versión posterior de la aplicación, o su comienzo está dañado. Nada ha cambiado. Actualice la aplicación y recíbalo después.',
  truncated: 'Este paquete está cortado: le falta el final. Nada ha cambiado. Cópielo otra vez de donde vino.',
  damaged: 'Este paquete se dañó por el camino. Nada ha cambiado. Cópielo otra vez de donde vino.',
  'other-casebook': 'Este paquete es de otro registro. Nada ha cambiado. Abra ese registro y recíbalo allí.',
  'unknown-epoch':
    'Este paquete se selló después de excluir a alguien, y este dispositivo aún no lo sabe. Nada ha cambiado. Encuéntrese con alguien del equipo y recíbalo después.',
  'wrong-secret':
    'Este paquete no se abre con el secreto que hay aquí, o alguien cambió el archivo. Nada ha cambiado. Encuéntrese con alguien del equipo para recibir el secreto de nuevo.',
  'too-large': 'Este archivo es mayor que cualquier registro. Nada ha cambiado. Pregunte a quien lo hizo.',
  'unreadable-inside': 'Este paquete se abre, pero lo que contiene no se puede leer. Nada ha cambiado. Pida uno nuevo.',
  partial:
    'Este paquete trae solo parte de un documento: falta aquello en lo que se apoya. Nada ha cambiado. Pida uno entero.',
  'file-unreadable':
    'Este dispositivo no pudo leer el archivo. Nada ha cambiado. Elíjalo de nuevo, o cópielo otra vez de donde vino.',
  someAnswer: 'una de las recién escritas',
  fault:
    'Es un fallo de la aplicación. Ciérrela y ábrala de nuevo; si se repite, actualice la aplicación o avise al equipo.',
}

export const issue = {
  invalid_type: 'falta, o es de otro tipo',
  too_small: 'es demasiado pequeño o corto',
  too_big: 'es demasiado grande o largo',
  unrecognized_keys: 'contiene un nombre desconocido',
  invalid_value: 'no es ninguno de los valores admitidos',
  other: 'no concuerda con el resto',
}

export const unmet = {
  'no-address':
    'Este dispositivo no conoce ninguna dirección en la que el otro pueda alcanzarlo, así que un código no llevaría a nada. No se intercambió nada. Únanse los dos a la misma zona wifi, permita la cámara (así el navegador sabe su propia dirección) y empiece de nuevo; o pase un paquete.',
  'not-a-code': 'Esto no es un código de esta página. Nada ha cambiado. Escanee el código de la otra pantalla.',
  'other-code-version':
    'Este código viene de una versión posterior de la aplicación. Nada ha cambiado. Actualice esta, o pase un paquete.',
  'damaged-code':
    'El código no se leyó entero. Nada ha cambiado. Escanéelo otra vez, más de cerca y de frente; como texto, cópielo entero.',
  'strange-description':
    'Este navegador describe su conexión de un modo que la aplicación no conoce. No se intercambió nada. Use otro navegador, o pase un paquete.',
  'own-code': 'Este es el código de este mismo dispositivo. Nada ha cambiado. Escanee el código de la otra pantalla.',
  'answer-for-offer':
    'Este es el segundo código, y este dispositivo pide el primero. Nada ha cambiado. Un dispositivo muestra el primer código; el otro lo escanea y muestra el segundo.',
  'offer-for-answer':
    'Los dos dispositivos muestran un primer código. Nada ha cambiado. Que uno de los dos empiece de nuevo y escanee primero.',
  'no-casebook':
    'Ninguno de los dos dispositivos tiene un libro de casos. Nada ha cambiado. Cree uno en uno de ellos, o busque a alguien del equipo.',
  'other-casebook':
    'El otro dispositivo tiene otro libro de casos. No se intercambió nada. Abra el mismo en los dos y empiece de nuevo.',
  'not-in-time':
    'Los dos dispositivos no se encontraron a tiempo. No se intercambió nada. Únanse los dos a la misma zona wifi, acérquense y empiecen de nuevo con códigos nuevos.',
  'given-up': 'Se dejó aquí. No se intercambió nada. Empiece de nuevo con códigos nuevos.',
  'closed-early':
    'El otro dispositivo cortó antes de mostrar quién es. No se intercambió nada. Empiece de nuevo; si se repite, pregunte si este dispositivo fue dado de baja.',
  'no-proof-in-time':
    'El otro dispositivo no mostró a tiempo quién es. No se intercambió nada. Acérquense y empiecen de nuevo.',
  'other-gate-version':
    'Las dos aplicaciones son de versiones demasiado distintas para reconocerse. No se intercambió nada. Actualice la más antigua, o pase un paquete.',
  'met-itself': 'Este dispositivo se encontró consigo mismo. No se intercambió nada.',
  'not-in-crew':
    'El otro dispositivo no es del equipo, o fue dado de baja. No se intercambió nada. Alguien del equipo puede invitarlo con dos códigos.',
  'false-proof':
    'El otro dispositivo no pudo probar quién es en esta conexión: puede que alguien esté en medio. No se intercambió nada. Encuéntrense con dos códigos, donde los dos puedan verse.',
  unexpected:
    'El otro dispositivo rompió el saludo con algo que no corresponde. No se intercambió nada. Empiece de nuevo; si se repite, actualice las dos aplicaciones.',
  'no-way':
    'Los dos dispositivos no encontraron camino entre sí. No se intercambió nada. Únanse los dos a la misma zona wifi, acérquense y empiecen de nuevo; si esa zona mantiene separados a sus invitados, use otra o pase un paquete.',
  'hub-unreachable':
    'El puesto de encuentro no responde. No se intercambió nada, y nada se ha perdido. Únase a su zona wifi y compruebe que está en marcha; este dispositivo sigue intentándolo. Los dos códigos y los paquetes no lo necesitan.',
  'not-invited':
    'La conexión terminó antes de que el otro dispositivo invitara a este. Aquí no quedó nada más que el cierre. Empiece de nuevo con códigos nuevos.',
  'unreadable-welcome':
    'El otro dispositivo envió una invitación que esta aplicación no puede leer. Aquí no quedó nada más que el cierre. Actualice la aplicación más antigua y empiece de nuevo.',
}

export const parted = {
  ended: 'La conexión ha terminado. Lo que había llegado queda guardado; encuéntrense otra vez para el resto.',
  cut: 'La conexión se cortó. Lo que había llegado queda guardado; encuéntrense otra vez para el resto.',
  silent:
    'El otro dispositivo dejó de responder. Lo que había llegado queda guardado; encuéntrense otra vez para el resto.',
  flooded:
    'El otro dispositivo envió más de lo que se le pidió, así que se cerró la conexión. Lo que había llegado queda guardado.',
  refused:
    'Uno de los dos dispositivos no quiso seguir: el otro fue dado de baja entretanto, o envió algo que no se puede leer. Lo que había llegado queda guardado. Si el equipo no sabe de ninguna baja, actualice las dos aplicaciones y encuéntrense otra vez.',
}
