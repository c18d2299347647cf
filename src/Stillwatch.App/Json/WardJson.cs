using System.Text.Json;
using Stillwatch.Alarms;
using Stillwatch.App.Jobs;
using Stillwatch.Replay;

namespace Stillwatch.App.Json;

/// <summary><c>ward --json</c>.</summary>
internal static class WardJson
{
    public static void Write(Utf8JsonWriter json, WardModel model)
    {
        json.WriteString("settingsFrom", Shapes.Name(model.Origin));
        json.Number("monitoredHours", model.Load.Technical.Per.Hours);
        json.Number("validHours", model.Load.Physiological.Per.Hours);
        TuneJson.Tally(json, "load", model.Tally);
        json.Number("medianPatientLoad", model.Load.MedianPatientSignalsPerDay);
        json.Number("shareOfTopTenth", model.Load.ShareOfTopTenth);
        json.WriteBoolean("patientsAssumed", model.PatientsAssumed);
        json.List("patients", model.Patients, p => json.Object(() =>
        {
            json.WriteString("patient", p.Load.Patient);
            json.Category(p.Category);
            json.WriteNumber("recordings", p.Load.Recordings);
            Loads(json, p.Load.Physiological, p.Load.Technical);
            json.Number("share", p.Load.ShareOfPhysiological);
            json.Number("technicalShare", p.Load.ShareOfTechnical);
            json.WriteNumber("mustCatchEvents", p.MustCatchEvents);
            json.WriteNumber("missed", p.Missed);
            json.WriteNumber("late", p.Late);
        }));
        json.List("conditions", model.Load.Conditions, c => json.Object(() =>
        {
            json.WriteString("condition", Shapes.Name(c.Condition));
            json.WriteBoolean("physiological", c.Condition.IsPhysiological());
            json.WriteNumber("signals", c.Signals);
            json.Number("signalMinutes", c.Active.Minutes);
        }));
        json.List("clockHours", model.Load.Hours?.Hours, h => json.Object(() =>
        {
            json.WriteNumber("hour", h.Hour);
            Loads(json, h.Physiological, h.Technical);
        }));
        json.List("groups", model.Groups, g => json.Object(() =>
        {
            json.WriteString("group", g.Key.ToString());
            json.WriteBoolean("categoryAssumed", g.IsCategoryAssumed);
            json.WriteNumber("patients", g.Load.Patients.Count);
            json.WriteNumber("recordings", g.Load.Recordings);
            Loads(json, g.Load.Physiological, g.Load.Technical);
            json.WriteNumber("mustCatchEvents", g.MustCatchEvents);
        }));
        json.List("recordings", model.Recordings, r => json.Object(() => json.Source(r.Loaded)));
        json.Texts("notComputable", model.NotComputable);
        json.Texts("leftOut", model.Loaded.LeftOut.Select(f => Path.GetFileName(f)));
        json.Unreadable(model.Loaded.Unreadable);
    }

    private static void Loads(Utf8JsonWriter json, AlarmLoad physiological, AlarmLoad technical)
    {
        json.Number("validHours", physiological.Per.Hours);
        json.WriteNumber("signals", physiological.Signals);
        json.Number("signalMinutes", physiological.Active.Minutes);
        json.Number("load", physiological.SignalsPerDay);
        json.Number("connectedHours", technical.Per.Hours);
        json.WriteNumber("technicalSignals", technical.Signals);
        json.Number("technicalLoad", technical.SignalsPerDay);
    }
}
