using System.Text.Json;
using Stillwatch.App.Jobs;

namespace Stillwatch.App.Json;

/// <summary><c>ward --json</c>.</summary>
internal static class WardJson
{
    public static void Write(Utf8JsonWriter json, WardModel model)
    {
        json.WriteString("settingsFrom", Shapes.Name(model.Origin));
        json.Number("monitoredHours", model.Tally.Connected.Hours);
        json.Number("validHours", model.Tally.Valid.Hours);
        TuneJson.Tally(json, "load", model.Tally);
        json.List("patients", model.Patients, p => json.Object(() =>
        {
            json.WriteString("patient", p.Patient);
            json.Category(p.Category);
            json.WriteNumber("recordings", p.Recordings);
            json.Number("validHours", p.Valid.Hours);
            json.Number("connectedHours", p.Connected.Hours);
            json.WriteNumber("signals", p.Physiological);
            json.Number("signalMinutes", p.PhysiologicalActive.Minutes);
            json.Number("load", p.PhysiologicalPerDay);
            json.Number("share", model.Tally.Physiological > 0 ? (double)p.Physiological / model.Tally.Physiological : null);
            json.WriteNumber("technicalSignals", p.Technical);
            json.Number("technicalLoad", p.TechnicalPerDay);
            json.WriteNumber("mustCatchEvents", p.MustCatchEvents);
            json.WriteNumber("missed", p.Missed);
            json.WriteNumber("late", p.Late);
        }));
        json.List("groups", model.Groups, g => json.Object(() =>
        {
            json.WriteString("group", g.Key.ToString());
            json.WriteNumber("patients", g.Patients);
            json.WriteNumber("recordings", g.Recordings);
            json.Number("validHours", g.Valid.Hours);
            json.Number("connectedHours", g.Connected.Hours);
            json.WriteNumber("signals", g.Physiological);
            json.Number("load", g.PhysiologicalPerDay);
            json.WriteNumber("technicalSignals", g.Technical);
            json.Number("technicalLoad", g.TechnicalPerDay);
            json.WriteNumber("mustCatchEvents", g.MustCatchEvents);
        }));
        json.List("recordings", model.Recordings, r => json.Object(() => json.Source(r.Loaded)));
        json.Texts("notComputable", model.NotComputable);
        json.Texts("leftOut", model.Loaded.LeftOut.Select(f => Path.GetFileName(f)));
        json.Unreadable(model.Loaded.Unreadable);
    }
}
