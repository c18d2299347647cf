using System.Diagnostics;
using Stillwatch.Oximetry;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Time;

namespace Stillwatch.Bench;

/// <summary>
/// Two channels of light at 125 a second on one core: the full chain in its streaming form, second by second; then the steps that a script would have
/// (band-pass of both, beats, each beat's correlation with the usual shape), ours and scipy's, in turns on the same samples.
/// </summary>
/// <remarks>Options: <c>--tiny</c> (5 min of light, one round), <c>--rounds N</c>.</remarks>
public static class LightBench
{
    private const double RateHz = 125;

    // See the script: with a loop over beats, without, and without and tuned.
    private static readonly string[] Kinds = ["loop", "whole", "bounded"];

    public static int Run(string[] args)
    {
        bool tiny = args.Contains("--tiny");
        int seconds = tiny ? 300 : 3600, rounds = tiny ? 1 : EdfBench.Rounds(args);
        var light = new SensorTrial { Seconds = seconds, SaturationPercent = 97, LastSaturationPercent = 90, PerfusionPercent = 1.5 }.Light(OpticalSensorSettings.Default, 41);
        double[] infrared = light.Infrared(), red = light.Red();
        Console.WriteLine($"Red and infrared light at {RateHz} a second, {seconds / 60} min, {rounds} round(s) in turns{(tiny ? "; tiny: shows that it runs" : "")}");
        Console.WriteLine(Machine.Text);
        string file = Path.GetTempFileName();
        try
        {
            Write(file, infrared, red);
            string rate = RateHz.ToString(System.Globalization.CultureInfo.InvariantCulture);
            var peers = Kinds.Select(kind => Peer.StartIfThere("scipy, " + kind, "light_scipy.py", file, rate, kind)).OfType<Peer>().ToList();
            bool same = Compare(infrared, red, peers, seconds, rounds);
            foreach (var peer in peers) peer.Dispose();
            return same && Allocations(infrared, red) && DayOfLight(tiny) ? 0 : 1;
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static bool Compare(double[] infrared, double[] red, List<Peer> peers, int seconds, int rounds)
    {
        var steps = new ScriptSteps(infrared.Length, RateHz);
        List<double> chain = [], ours = [];
        var theirs = peers.Select(_ => new List<double>()).ToList();
        var parts = new List<double[]>();
        for (int round = -2; round < rounds; round++)
        {
            double whole = Timed(() => WholeChain(infrared, red));
            double mine = Timed(() => steps.Run(infrared, red));
            double[] scripts = [.. peers.Select(p => p.Run())];
            if (round < 0) continue; // first turns compile
            chain.Add(whole);
            ours.Add(mine);
            for (int i = 0; i < scripts.Length; i++) theirs[i].Add(scripts[i]);
            parts.Add([.. steps.PartSeconds]);
        }

        double chainSeconds = Stopwatches.Median(chain), stepSeconds = Stopwatches.Median(ours);
        Console.WriteLine($"  full chain {Stopwatches.Text(chainSeconds)} (least {Stopwatches.Text(chain.Min())}): {seconds / chainSeconds:0} times real time");
        Console.WriteLine($"  the script's steps, ours {Stopwatches.Text(stepSeconds)} (least {Stopwatches.Text(ours.Min())}): {seconds / stepSeconds:0} times real time ({string.Join(", ", ScriptSteps.PartNames.Select((n, i) => $"{n} {Stopwatches.Text(Stopwatches.Median(parts.Select(p => p[i])))}"))})");
        for (int i = 0; i < peers.Count; i++)
        {
            double median = Stopwatches.Median(theirs[i]);
            Console.WriteLine($"  the script's steps, {peers[i].Version} {Stopwatches.Text(median)} (least {Stopwatches.Text(theirs[i].Min())}): {seconds / median:0} times real time; ratio {median / stepSeconds:0.0} (of the least {theirs[i].Min() / ours.Min():0.0})");
        }

        return peers.All(p => SameBeats(steps, p));
    }

    /// <summary>Both must have found about the same beats, or they were not doing the same work.</summary>
    private static bool SameBeats(ScriptSteps steps, Peer peer)
    {
        string answer = Path.GetTempFileName();
        try
        {
            long[] theirs = [.. peer.Answer(answer).Skip(2).Order()];
            var ours = steps.BeatMilliseconds;
            var apart = ours.Select(b => theirs.MinBy(t => Math.Abs(t - b)) - b).Order().ToList();
            long shift = apart.Count == 0 ? 0 : apart[apart.Count / 2];
            int same = apart.Count(a => Math.Abs(a - shift) <= 50);
            Console.WriteLine($"  beats: ours {ours.Count}, scipy {theirs.Length}, within 50 ms of each other {same} (after {shift} ms of its filter's delay)");
            return same >= 0.98 * Math.Max(ours.Count, theirs.Length);
        }
        finally
        {
            File.Delete(answer);
        }
    }

    private static Counted WholeChain(double[] infrared, double[] red)
    {
        var counted = new Counted();
        var stream = new OximetryStream(StreamInput.RedAndInfrared(SampleRate.Of(125, 1000L)), new OximetrySettings(), counted);
        for (int at = 0; at < infrared.Length; at += (int)RateHz) stream.Push(infrared.AsSpan(at, (int)RateHz), red.AsSpan(at, (int)RateHz));
        stream.End();
        return counted;
    }

    /// <summary>Bytes that the running chain takes from the heap, once a minute of light has gone by.</summary>
    private static bool Allocations(double[] infrared, double[] red)
    {
        var stream = new OximetryStream(StreamInput.RedAndInfrared(SampleRate.Of(125, 1000L)), new OximetrySettings(), new Counted());
        int warm = (int)(60 * RateHz);
        stream.Push(infrared.AsSpan(0, warm), red.AsSpan(0, warm));
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int at = warm; at < infrared.Length; at++) stream.Push(infrared.AsSpan(at, 1), red.AsSpan(at, 1));
        long taken = GC.GetAllocatedBytesForCurrentThread() - before;
        int samples = infrared.Length - warm;
        Console.WriteLine($"  allocated in streaming form, sample by sample: {taken} bytes over {samples} samples ({(double)taken / samples:0.###} a sample)");
        return taken < samples / 100;
    }

    /// <summary>A day of light, drawn second by second, through the chain: what is held after an hour and at the end.</summary>
    private static bool DayOfLight(bool tiny)
    {
        int hours = tiny ? 1 : 24, minutesBefore = tiny ? 10 : 60;
        var sensor = new OpticalSensor(OpticalSensorSettings.Default, 42);
        var moment = new SensorTrial { Seconds = 1 }.Moments()[0];
        int perSecond = sensor.SamplesPerSecond;
        int[] redCounts = new int[perSecond], infraredCounts = new int[perSecond];
        double[] red = new double[perSecond], infrared = new double[perSecond], truth = new double[perSecond];
        var disturbances = new Disturbances[perSecond];
        var (beats, breaths) = (new List<double>(), new List<double>());
        var stream = new OximetryStream(StreamInput.RedAndInfrared(SampleRate.Of(perSecond, 1000L)), new OximetrySettings(), new Counted());
        long early = 0;
        for (int second = 0; second < hours * 3600; second++)
        {
            sensor.Second(moment, moment, default, new LightSecond { Red = redCounts, Infrared = infraredCounts, SaturationPercent = truth, Disturbances = disturbances, Beats = beats, Breaths = breaths });
            for (int i = 0; i < perSecond; i++) (red[i], infrared[i]) = (redCounts[i], infraredCounts[i]);
            stream.Push(infrared, red);
            beats.Clear();
            breaths.Clear();
            if (second == minutesBefore * 60) early = GC.GetTotalMemory(forceFullCollection: true);
        }

        long late = GC.GetTotalMemory(forceFullCollection: true);
        GC.KeepAlive(stream);
        Console.WriteLine($"  held: {early / 1e6:0.000} MB after {minutesBefore} min of light, {late / 1e6:0.000} MB after {hours} h; the process' peak {Machine.PeakBytes() / 1e6:0} MB");
        return late - early < 100_000;
    }

    private static double Timed(Action run)
    {
        long start = Stopwatch.GetTimestamp();
        run();
        return Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private static void Write(string file, params double[][] channels)
    {
        using var stream = File.Create(file);
        foreach (double[] channel in channels) stream.Write(System.Runtime.InteropServices.MemoryMarshal.AsBytes(channel.AsSpan()));
    }

    private sealed class Counted : IOximetrySink
    {
        public int Beats { get; private set; }

        public int Seconds { get; private set; }

        public int Windows { get; private set; }

        public void Take(in Beat beat) => Beats++;

        public void Take(int secondIndex, in SecondReading reading) => Seconds++;

        public void Take(in BreathingReading reading) => Windows++;
    }
}
