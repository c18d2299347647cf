using System.Globalization;
using Stillwatch.Oximetry.Feed;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Oximetry.Planning;

/// <summary>A plan, and what is needed to follow it.</summary>
internal sealed record ChosenLight(OpticalPlan Plan, LightFeed Feed)
{
    public StreamInput InputAt(SampleRate rate) => new(rate, Plan.RedLabel is not null, Plan.FallsWithBlood, Plan.IsLight);
}

/// <summary>
/// Chooses what the chain reads: red and infrared light by their kind; one of them alone; a pleth; and of channels whose use nobody told, the one
/// whose pulse is best.
/// </summary>
internal static class OpticalPlanner
{
    /// <summary>Every second between first and last sample has a reading, 48 bytes: a wrong date must not fill the memory.</summary>
    public const int LongestDays = 40;

    private const long LongestMilliseconds = LongestDays * 86_400_000L;

    /// <exception cref="NoLightException">Nothing here can hold a pulse.</exception>
    public static ChosenLight Choose(Recording recording, OximetrySettings settings)
    {
        var refused = new List<ChannelCandidate>();
        var infrared = recording.Find(ChannelKind.InfraredLight);
        var red = recording.Find(ChannelKind.RedLight);
        if (infrared is not null && red is not null && TryFeed(infrared, red, refused) is { } both && Light(both, infrared, red, refused) is { } pair) return pair;
        foreach (var alone in new[] { infrared, red })
        {
            if (alone is not null && !refused.Any(r => r.Label == alone.Label && !r.Chosen && r.IsUnfit) && TryFeed(alone, null, refused) is { } one && Light(one, alone, null, refused) is { } single)
                return single;
        }

        var pleths = recording.Channels.Where(c => c.Kind == ChannelKind.Pleth).ToList();
        if (Best(pleths, "by its kind", settings, refused) is { } pleth) return pleth;
        var others = recording.Channels.Where(c => c.Kind == ChannelKind.Other).ToList();
        if (Best(others, "tried: its use is not known", settings, refused) is { } best) return best;
        throw Nothing(refused);
    }

    // A reason that several channels share is said once, with all their names.
    private static NoLightException Nothing(List<ChannelCandidate> refused)
    {
        string found = refused.Count == 0 ? "no waveform among the channels"
            : string.Join("; ", refused.GroupBy(r => r.Reason).Select(g => $"{string.Join(", ", g.Select(r => $"\"{r.Label}\"").Distinct())}: {g.Key}"));
        var causes = refused.Select(r => r.LikelyCause).OfType<string>().Distinct().ToList();
        return new NoLightException(found, "a pleth, red and infrared light, or another waveform of 25 to 500 samples a second", causes.Count == 0 ? null : string.Join("; or ", causes));
    }

    /// <summary>Null: what is called light is none; it stands among the refused then.</summary>
    private static ChosenLight? Light(LightFeed feed, Channel pulse, Channel? red, List<ChannelCandidate> refused)
    {
        string reason = red is not null ? "infrared light by its kind" : $"{(pulse.Kind == ChannelKind.RedLight ? "red" : "infrared")} light by its kind, alone";
        refused.RemoveAll(r => r.Label == pulse.Label);
        var check = new LightCheck(feed.Rate.Hertz, red is not null);
        feed.Run(check);
        bool isUnfit = Refuse(pulse, check.WithoutLevel);
        if (Refuse(red, check.RedWithoutLevel) || isUnfit) return null;
        string? noSaturation = red is null ? "there is one light only"
            : check.Rises ? $"\"{pulse.Label}\" rises with blood as raw light never does, so that its zero is not darkness"
            : check.RedRises ? $"\"{red.Label}\" rises with blood as raw light never does, so that its zero is not darkness"
            : null;
        if (red is null && check.Rises) noSaturation = $"there is one light only, and it rises with blood as raw light never does";
        List<ChannelCandidate> candidates = [new(pulse.Label, double.NaN, true, $"{reason}; {Way(check.Rises)}"), .. refused];
        if (red is not null) candidates.Insert(1, new(red.Label, double.NaN, noSaturation is null, $"red light by its kind; {Way(check.RedRises)}"));
        var plan = new OpticalPlan
        {
            PulseLabel = pulse.Label,
            RedLabel = noSaturation is null ? red?.Label : null,
            NoSaturationBecause = noSaturation,
            FallsWithBlood = !check.Rises,
            IsLight = !check.Rises,
            Rate = feed.Rate,
            Candidates = candidates,
        };
        return new ChosenLight(plan, noSaturation is null ? feed : LightFeed.Of(pulse));

        bool Refuse(Channel? channel, string? fault)
        {
            if (channel is null || fault is null) return false;
            refused.Add(new ChannelCandidate(channel.Label, double.NaN, false, fault) { IsUnfit = true, LikelyCause = $"the light was filtered or turned over before it was recorded; --map pleth={channel.Label} takes its pulse without SpO2" });
            return true;
        }
    }

    private static string Way(bool rises) => rises ? "rises with blood, for that way its rise is the steeper slope" : "falls with blood";

    /// <summary>The channel with the best mean quality; with one only, nothing is compared.</summary>
    private static ChosenLight? Best(List<Channel> channels, string reason, OximetrySettings settings, List<ChannelCandidate> refused)
    {
        var tried = new List<(Channel Channel, LightFeed Feed, bool Falls, double Quality)>();
        foreach (var channel in channels)
        {
            if (TryFeed(channel, null, refused) is not { } feed) continue;
            var asymmetry = new SlopeAsymmetry(feed.Rate.Hertz);
            feed.Run(asymmetry);
            bool falls = asymmetry.Votes < 0;
            double quality = double.NaN;
            if (channels.Count > 1)
            {
                var mean = new MeanQuality();
                LightRun.Through(feed, new StreamInput(feed.Rate, false, falls, false), settings, mean);
                quality = mean.Value;
            }

            tried.Add((channel, feed, falls, quality));
        }

        if (tried.Count == 0) return null;
        var best = tried[0];
        foreach (var one in tried)
        {
            if (one.Quality > best.Quality) best = one; // equal: the first
        }

        var candidates = tried.Select(t => new ChannelCandidate(
            t.Channel.Label, t.Quality, t.Channel == best.Channel, string.Create(CultureInfo.InvariantCulture, $"{reason}; {(t.Falls ? "falls" : "rises")} with blood, for that way its rise is the steeper slope")));
        var plan = new OpticalPlan
        {
            PulseLabel = best.Channel.Label,
            FallsWithBlood = best.Falls,
            IsLight = false,
            Rate = best.Feed.Rate,
            Candidates = [.. candidates, .. refused],
        };
        return new ChosenLight(plan, best.Feed);
    }

    private static LightFeed? TryFeed(Channel pulse, Channel? red, List<ChannelCandidate> refused)
    {
        if (pulse.Times.Span.Milliseconds > LongestMilliseconds)
        {
            refused.Add(new ChannelCandidate(pulse.Label, double.NaN, false, $"spans {pulse.Times.Span.Hours / 24:0} days, more than the {LongestDays} that are derived at once") { LikelyCause = "a wrong time among the rows: see stillwatch inspect, correct or cut it there, or leave the times aside with --map time=none --rate HZ" });
            return null;
        }

        try
        {
            return LightFeed.Of(pulse, red);
        }
        catch (FeedRefusedException reason)
        {
            refused.Add(new ChannelCandidate(red?.Label ?? pulse.Label, double.NaN, false, reason.InList) { LikelyCause = reason.LikelyCause });
            return null;
        }
    }

    private sealed class MeanQuality : IOximetrySink
    {
        private double sum;
        private int count;

        /// <summary>Over all seconds; those without samples count as 0.</summary>
        public double Value => count > 0 ? sum / count : 0;

        public void Take(in Beat beat)
        {
        }

        public void Take(int secondIndex, in SecondReading reading)
        {
            sum += double.IsNaN(reading.Quality) ? 0 : reading.Quality;
            count++;
        }

        public void Take(in BreathingReading reading)
        {
        }
    }
}
