namespace Stillwatch.Formats.AlarmLists;

/// <summary>
/// The words by which alarm texts and the headers of alarm lists are understood, without accents: English, German, French, Spanish,
/// Italian, Portuguese, Dutch and the Scandinavian languages. Common practice, no source.
/// </summary>
internal static class AlarmVocabulary
{
    public static readonly HashSet<string> Alarm = Words("alarm alarms alert alerts alarme alarma allarme larm physiological warning violation exceeded unterschritten uberschritten ueberschritten");
    public static readonly HashSet<string> ShortSaturation = Words("sat sats satur o2sat");
    public static readonly HashSet<string> Desaturation = Words("desat desats desaturation desaturations desaturating entsattigung entsaettigung desaturacion desaturazione dessaturacao desaturatie desaturering desaturasjon");

    public static readonly HashSet<string> Low = Words("low lo lower below under less min minimum niedrig niedrige niedriger tief tiefe tiefer unterschritten unter bas basse basses faible bajo baja bajos basso bassa bassi baixo baixa laag lage lag lav lavt laga");
    public static readonly HashSet<string> High = Words("high hi upper above over greater max maximum hoch hohe hoher uberschritten ueberschritten uber ueber haut haute eleve elevee alto alta elevado elevada elevato hoog hoge hog hogt hoj hojt hoy hoyt");
    public static readonly HashSet<string> Poor = Words("poor weak bad inadequate insufficient schlecht schlechte schwach schwaches mauvais mauvaise faible debil malo mala debole scarso scarsa fraco fraca ruim slecht zwak dalig svag darlig svak");
    public static readonly HashSet<string> Limit = Words("limit limits threshold grenze grenzwert limite limites seuil umbral soglia limiar grens grans gransvarde graense grense terskel");
    public static readonly HashSet<string> Seconds = Words("s sec secs second seconds sek sekunden secondes segundos secondi seconden sekunder min minutes");

    public static readonly HashSet<string> None = Words("no not none without kein keine keinen nicht ohne pas aucun aucune sans sin ningun ninguna nessun nessuna nessuno non sem nenhum nenhuma geen zonder niet ingen inget intet uden utan uten");
    public static readonly HashSet<string> Lost = Words("lost loss missing absent verloren verlust perdu perdue perte perdido perdida perso persa perda verlies tappad tabt tapt");
    public static readonly HashSet<string> Reading = Words("reading readings value values data measurement messwert messwerte wert werte daten mesure valeur donnees medida medicion valor datos dados lettura misura valore dati medicao meting waarde matning varde maling vaerdi verdi");
    public static readonly HashSet<string> Signal = Words("signal signale senal segnale sinal signaal quality qualitat qualitaet qualite calidad qualita qualidade kwaliteit kvalitet signalqualitat signalqualitaet signalquality sqi");
    public static readonly HashSet<string> Searching = Words("search searching suche pulssuche recherche busqueda buscando ricerca busca procura zoeken soker soger");

    public static readonly HashSet<string> Sensor = Words("sensor probe finger doigt dedo dito vinger fuhler fuehler messfuhler capteur sonda sonde sensore sensoren");
    public static readonly HashSet<string> Finger = Words("finger doigt dedo dito vinger");
    public static readonly HashSet<string> Off = Words("off detached displaced ab abgefallen aus decroche detache debranche suelto desprendido apagado staccato scollegato spento solto desligado los uit lossnat av");
    public static readonly HashSet<string> Unplugged = Words("disconnected unplugged disconnect getrennt abgezogen ausgesteckt deconnecte deconnectee debranche desconectado desconectada scollegato disconnesso desligado losgekoppeld ontkoppeld urkopplad frakoblet afbrudt");
    public static readonly HashSet<string> Battery = Words("battery batteries batterie akku bateria batteria batterij accu batteri netzausfall");
    public static readonly HashSet<string> OnBattery = Words("on battery power netzausfall auf sur con en");

    /// <summary>Without the Spanish word, which in English is a colour that alarms are named by.</summary>
    public static readonly HashSet<string> Mains = Words("mains netz secteur netvoeding");
    public static readonly HashSet<string> Failed = Words("failure failed fail ausfall panne fallo guasto falha");
    public static readonly HashSet<string> Disturbed = Words("interference artefact artifact motion movement storung stoerung bewegung artefakt interferences artefacts mouvement interferencia artefacto movimiento interferenza artefatto movimento artefato storing beweging artefacten storning rorelse forstyrrelse bevaegelse bevegelse");
    public static readonly HashSet<string> Implausible = Words("implausible implausibel unplausibel implausibles inverosimil implausibile implausivel");

    public static readonly HashSet<string> Ended = Words("end ended ends cleared clear reset resolved recovered normal ende beendet vorbei zuruckgesetzt zurueckgesetzt aufgehoben fin termine terminee resolu resolue finalizado resuelto resuelta fine terminato risolto fim terminado resolvido einde beeindigd hersteld slut slutt avslutad opphort ophort");
    public static readonly HashSet<string> Begun = Words("start started begin begins begun on active activated new onset beginn aktiv ein debut actif inicio activo inizio attivo ativo aan actief paa");

    /// <summary>What somebody did, a change of settings, or a trial: no signal of the patient's or the sensor's.</summary>
    public static readonly HashSet<string> Operator = Words("acknowledged acknowledge ack acked silenced silence muted mute paused pause suspended suspend inhibited disabled enabled changed change set setting settings adjusted test demo quittiert bestatigt bestaetigt stumm stummgeschaltet pausiert geandert geaendert einstellung acquitte acquittee silencieux modifie reconocida reconocido silenciada silenciado pausada cambiado tacitato tacitata silenziato modificato reconhecido alterado bevestigd gedempt gewijzigd kvitterad kvitteret kvittert tystad andrad aendret endret");

    // Headers of lists.
    public static readonly HashSet<string> StartHeader = Words("start started begin began onset occurred beginn anfang von debut inicio inizio aanvang van begyndelse borjan fra from raised");
    public static readonly HashSet<string> EndHeader = Words("end ended stop stopped until to cleared ende bis fin jusqu fine fim hasta einde tot slut slutt till til");
    public static readonly HashSet<string> LengthHeader = Words("duration length lasted dauer lange laenge duree duracion durata duracao duur varaktighet varighed varighet");
    public static readonly HashSet<string> PriorityHeader = Words("priority severity urgency prioritat prioritaet dringlichkeit priorite prioridad priorita prioridade prioriteit prioritet level stufe niveau nivel livello");
    public static readonly HashSet<string> ValueHeader = Words("value wert messwert valeur valor valore waarde varde vaerdi verdi");
    public static readonly HashSet<string> StateHeader = Words("state status action zustand etat estado stato aktion toestand tillstand tilstand");
    public static readonly HashSet<string> TextHeader = Words("alarm alarms alert message text event condition description reason parameter type source meldung ereignis beschreibung bedingung grund evenement condicion evento mensaje messaggio mensagem descricao descripcion descrizione alarme alarma allarme larm bericht melding hendelse haendelse handelse omschrijving beskrivning beskrivelse parametre parametro");

    public static readonly HashSet<string> PriorityHigh = Words("high hoch haute haut alta alto hoog hog hoj hoy critical kritisch critique critica critico");
    public static readonly HashSet<string> PriorityMedium = Words("medium moderate mittel moyenne moyen media medio middel medel mellan middels");
    public static readonly HashSet<string> PriorityLow = Words("low niedrig basse bas faible baja bajo bassa basso baixa baixo laag lag lav advisory");

    private static HashSet<string> Words(string words) => new(words.Split(' '), StringComparer.Ordinal);
}
