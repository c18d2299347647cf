using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>The truth of a run as a recording, with two decimals.</summary>
internal static class TruthRecording
{
    public static Recording Of(RehearsalRun run)
    {
        var times = TimeAxis.Even(default, new Duration(1000), run.Seconds);
        var (patient, sensor, drives) = (run.Patient, run.Sensor, run.Drives);
        return new Recording(
            $"{run.Scenario.Name}, the truth",
            run.Start,
            [
                Channel("true SpO2 at the site", ChannelKind.SpO2, "%", t => patient[t].SiteSaturationPercent),
                Channel("true pulse rate", ChannelKind.PulseRate, "/min", t => patient[t].PulseRatePerMinute),
                Channel("true perfusion", ChannelKind.PerfusionIndex, "%", t => patient[t].PerfusionPercent),
                Channel("arterial saturation", ChannelKind.Other, "%", t => patient[t].ArterialSaturationPercent),
                Channel("breaths", ChannelKind.Other, "/min", t => patient[t].RespiratoryRatePerMinute),
                Channel("breath depth", ChannelKind.Other, "1", t => patient[t].BreathDepth),
                Channel("breath effort", ChannelKind.Other, "1", t => patient[t].BreathEffort),
                Channel("alveolar oxygen", ChannelKind.Other, "Torr", t => patient[t].AlveolarOxygenTorr),
                Channel("arterial carbon dioxide", ChannelKind.Other, "Torr", t => patient[t].ArterialCarbonDioxideTorr),
                Channel("inhaled oxygen", ChannelKind.InhaledOxygen, "%", t => drives[t].InhaledOxygenFraction * 100),
                Channel("motion", ChannelKind.Other, "1", t => sensor[t].Motion),
                Channel("lamp light", ChannelKind.Other, "1", t => sensor[t].Flicker),
                Channel("steady stray light", ChannelKind.Other, "1", t => sensor[t].Ambient),
                Channel("sensor slipped", ChannelKind.Other, "1", t => sensor[t].Slip),
                Channel("sensor off", ChannelKind.Other, "1", t => sensor[t].Off ? 1 : 0),
                Channel("feed lost", ChannelKind.Other, "1", t => sensor[t].FeedLost ? 1 : 0),
            ],
            new SourceAveraging(Duration.Zero),
            []);

        Channel Channel(string label, ChannelKind kind, string unit, Func<int, double> at)
        {
            var values = new ValueColumn.Builder();
            for (int t = 0; t < run.Seconds; t++) values.Add((int)Math.Round(at(t) * 100) * 10_000);
            return new Channel(label, kind, unit, times, values.Build());
        }
    }
}
