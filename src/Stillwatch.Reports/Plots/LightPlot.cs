using Stillwatch.Oximetry;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>Light, beats, ratio, SpO2, pulse rate, perfusion, respiratory rate, quality and states under each other on one time axis.</summary>
internal sealed class LightPlot
{
    private const double LightHeight = 108, SpO2Height = 116, RateHeight = 78, SmallHeight = 58;

    private readonly LightSection section;
    private readonly DerivedRecording derived;
    private readonly bool isDetail;
    private readonly PanelStack stack;
    private readonly List<LightState> states;

    private LightPlot(LightSection section, SampleTime from, SampleTime to, bool isDetail, string id)
    {
        this.section = section;
        this.isDetail = isDetail;
        derived = section.Derived;
        var span = new TimeSlice(from, to);
        states = [.. DerivedSummary.Stretches(derived).Where(s => s.State != LightState.Valid && s.Span.Overlaps(span)).Select(s => s.State).Distinct().Order()];
        var clock = new Clock(section.Recording.Start);
        string title = isDetail ? $"Light and numbers, {Words.Span(to - from)} in detail" : "Light and numbers, the whole recording";
        stack = new PanelStack(id, Height(), from, to, clock, title, Sentences.Light(section, from, to));
    }

    /// <summary>The whole span, samples thinned to an envelope.</summary>
    public static Picture Whole(LightSection section, string id) =>
        section.Derived.Seconds.Count == 0 ? Picture.None : new LightPlot(section, section.Derived.Start, section.Derived.Start + new Duration(section.Derived.Seconds.Count * 1000L), isDetail: false, id).Draw();

    /// <summary>Some seconds, every sample.</summary>
    public static Picture Detail(LightSection section, TimeSlice strip, string id) =>
        section.Derived.Seconds.Count == 0 ? Picture.None : new LightPlot(section, strip.Start, strip.End, isDetail: true, id).Draw();

    private bool HasSpO2 => derived.Plan.RedLabel is not null;

    private bool HasPerfusion => derived.Plan.IsLight;

    private double Height()
    {
        int small = 1 + (HasSpO2 ? 1 : 0) + (HasPerfusion ? 1 : 0) + (derived.Breathing.Count > 0 ? 1 : 0);
        int panels = small + 1 + (section.Pulse is null ? 0 : 1) + (section.Red is null ? 0 : 1) + (HasSpO2 ? 1 : 0);
        return small * SmallHeight + RateHeight + ((section.Pulse is null ? 0 : 1) + (section.Red is null ? 0 : 1)) * LightHeight + (HasSpO2 ? SpO2Height : 0)
            + panels * PanelStack.Between + PanelStack.RowHeight * (1 + Math.Max(1, states.Count)) + 4;
    }

    private Picture Draw()
    {
        if (section.Pulse is { } pulse) Light(pulse, HasSpO2 ? "Infrared light" : derived.Plan.IsLight ? "Light" : "Pleth", withBeats: true);
        if (section.Red is { } red) Light(red, "Red light", withBeats: false);
        if (HasSpO2) Ratio();
        if (HasSpO2) SpO2();
        Numbers("Pulse rate, /min", RateHeight, s => s.PulseRatePerMinute, 20, null, v => Words.Number(v, 0), "0");
        if (HasPerfusion) Numbers("Perfusion, %", SmallHeight, s => s.PerfusionPercent, 0.2, 0, v => v.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture), "0.00");
        if (derived.Breathing.Count > 0) Breathing();
        Numbers("Quality, 0 to 1", SmallHeight, s => s.Quality, 1, 0, v => v.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture), "0.00");
        States();
        return stack.Finish();
    }

    private void Light(Channel channel, string name, bool withBeats)
    {
        bool turned = derived.Plan.FallsWithBlood;
        var (from, to) = (stack.Time.From, stack.Time.To);
        var columns = SampleColumns.Of(channel, from, to, PanelStack.Columns);
        // Without tissue the light is far off its usual level; the pulse would be a line on a scale that holds both.
        var filled = columns.Where((c, i) => c.HasValue && StateAt(i - 1) != LightState.SensorOff && StateAt(i) != LightState.SensorOff && StateAt(i + 1) != LightState.SensorOff).ToList();
        bool isCut = filled.Count > 0 && columns.Any(c => c.HasValue && (c.Greatest > filled.Max(f => f.Greatest) || c.Least < filled.Min(f => f.Least)));
        if (filled.Count == 0) filled = [.. columns.Where(c => c.HasValue)];
        double least = filled.Count == 0 ? 0 : filled.Min(c => c.Least), greatest = filled.Count == 0 ? 1 : filled.Max(c => c.Greatest);
        double room = Math.Max((greatest - least) * 0.06, Math.Max(Math.Abs(greatest), 1e-9) * 1e-6);
        double headroom = withBeats && isDetail ? Math.Max(greatest - least, room) * 0.16 : 0; // for the marks above the trace
        var range = turned ? (greatest + room, least - room - headroom) : (least - room, greatest + room + headroom);
        int decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(Ticks.Step(Math.Max(greatest - least, room), 4))), 0, 6);
        var legend = new List<(string, Action<double, double>?)> { ("up: more blood", null) };
        if (withBeats && isDetail) legend.AddRange([("beat", (x, y) => BeatMark(x + 8, y - 5)), ("peak", (x, y) => Dot(x + 8, y, true)), ("trough", (x, y) => Dot(x + 8, y, false))]);
        if (!isDetail) legend.Add(("low to high", (x, y) => stack.Canvas.Rect(x, y - 5, 16, 11, new Paint(Ink.Envelope))));
        if (isCut) legend.Add(("sensor off: cut at edge", null));
        stack.Add(name + (channel.Unit.Length > 0 ? $", {channel.Unit}" : ""), LightHeight, range, 4, v => Words.Number(v, decimals), panel =>
        {
            GapsOf(columns, panel);
            if (isDetail) Trace(channel, panel);
            else Band(columns, panel);
            if (withBeats && isDetail) Beats(channel, panel);
        }, legend, withBeats ? [Words.Count(BeatsWithin().Count(), "beat")] : null);
    }

    private LightState StateAt(int column)
    {
        long second = (stack.Time.TimeAtColumn(column, PanelStack.Columns) - derived.Start).Milliseconds / 1000;
        return second >= 0 && second < derived.Seconds.Count ? derived.Seconds[(int)second].State : LightState.NoSamples;
    }

    // A pixel column between two samples is no gap: only stretches longer than two seconds' worth, or three samples, are.
    private void GapsOf(SampleColumns.Column[] columns, PanelStack.Panel panel)
    {
        foreach (var (span, state) in DerivedSummary.Stretches(derived))
        {
            if (state != LightState.NoSamples || span.End <= stack.Time.From || span.Start >= stack.Time.To) continue;
            double left = stack.Time.At(span.Start), right = stack.Time.At(span.End);
            int first = Math.Clamp((int)(left - PanelStack.Left), 0, columns.Length - 1), last = Math.Clamp((int)(right - PanelStack.Left) - 1, 0, columns.Length - 1);
            while (first <= last && columns[first].HasValue) first++;
            while (last >= first && columns[last].HasValue) last--;
            if (last > first) stack.Canvas.Rect(PanelStack.Left + first, panel.Top, last - first + 1, panel.Bottom - panel.Top, new Paint(stack.Canvas.Fill(Pattern.Gap)), "No samples");
        }
    }

    private void Trace(Channel channel, PanelStack.Panel panel)
    {
        var path = new PathText();
        long before = long.MinValue;
        long longest = Math.Max(200, channel.Times.Period.Milliseconds * 3);
        foreach (var (milliseconds, value) in SampleColumns.Within(channel, stack.Time.From, stack.Time.To))
        {
            double x = stack.Time.At(new SampleTime(milliseconds)), y = panel.Scale.Within(value);
            if (before == long.MinValue || milliseconds - before > longest) path.MoveTo(x, y);
            else path.LineTo(x, y);
            before = milliseconds;
        }

        stack.Canvas.Path(path, Paint.Line(Ink.Trace, 1.3));
    }

    private void Band(SampleColumns.Column[] columns, PanelStack.Panel panel)
    {
        var band = new PathText();
        for (int c = 0; c < columns.Length; c++)
        {
            if (!columns[c].HasValue) continue;
            double one = panel.Scale.Within(columns[c].Least), other = panel.Scale.Within(columns[c].Greatest), x = PanelStack.Left + c;
            double top = Math.Min(one, other), bottom = Math.Max(top + 0.8, Math.Max(one, other));
            band.MoveTo(x, top).LineTo(x + 1, top).LineTo(x + 1, bottom).LineTo(x, bottom).Close();
        }

        stack.Canvas.Path(band, new Paint(Ink.Envelope));
    }

    private void Beats(Channel channel, PanelStack.Panel panel)
    {
        foreach (var beat in BeatsWithin())
        {
            double x = stack.Time.At(At(beat.UpstrokeSeconds));
            stack.Canvas.Line(x, panel.Top + 9, x, panel.Bottom, Paint.Line(Ink.Axis, 1, "2 3"));
            BeatMark(x, panel.Top + 1);
            foreach (var (seconds, isPeak) in new[] { (beat.PeakSeconds, true), (beat.TroughSeconds, false) })
            {
                if (ValueAt(channel, At(seconds)) is { } value) Dot(stack.Time.At(At(seconds)), panel.Scale.Within(value), isPeak);
            }
        }
    }

    private void Ratio()
    {
        double[] all = [.. isDetail ? BeatsWithin().Select(b => b.Ratio) : [], .. SecondsWithin().Select(s => s.RatioOfRatios)];
        stack.Add("Ratio of ratios", SmallHeight, Around(all, 0.3, 0, null), 3, v => v.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture), panel =>
        {
            var trace = Of(s => s.RatioOfRatios);
            trace.Gaps(panel, "No ratio is trusted here");
            trace.Line(panel);
            foreach (var beat in isDetail ? BeatsWithin() : [])
            {
                if (!double.IsNaN(beat.Ratio)) Dot(stack.Time.At(At(beat.UpstrokeSeconds)), panel.Scale.Within(beat.Ratio), true);
            }
        }, isDetail ? [("averaged", Stroke), ("each beat", (x, y) => Dot(x + 8, y, true))] : null, Aside(DerivedSummary.Spread.Of(derived.Seconds.Select(s => s.RatioOfRatios)), "0.00"));
    }

    private void SpO2()
    {
        double lowest = DerivedSummary.Spread.Of(SecondsWithin().Select(s => s.SpO2Percent))?.Least ?? 90;
        double floor = Math.Min(85, Math.Max(0, Math.Floor((lowest - 2) / 5) * 5));
        stack.Add("SpO2 derived, %", SpO2Height, (floor, 100.7), floor < 60 ? 5 : 6, v => Words.Number(v, 0), panel =>
        {
            var trace = Of(s => s.SpO2Percent);
            trace.Gaps(panel, "SpO2 is refused here");
            trace.Line(panel);
        }, Legend(), Aside(section.Summary.SpO2, "0.0"));
    }

    private void Numbers(string name, double height, Func<SecondReading, double> value, double leastSpan, double? floor, Func<double, string> label, string format)
    {
        double[] all = [.. SecondsWithin().Select(value)];
        bool isQuality = leastSpan == 1 && floor == 0;
        var range = isQuality ? (0, 1.02) : Around(all, leastSpan, floor ?? 0, floor);
        stack.Add(name, height, range, height > SmallHeight ? 4 : 3, label, panel =>
        {
            var trace = Of(value);
            trace.Gaps(panel, isQuality ? "No samples" : "The number is refused here");
            trace.Line(panel);
        }, height > SmallHeight && !HasSpO2 ? Legend() : null, Aside(DerivedSummary.Spread.Of(all), format));
    }

    private void Breathing()
    {
        var breathing = derived.Breathing;
        var length = new Duration((long)(breathing[0].LengthSeconds * 1000));
        double[] all = [.. breathing.Select(b => b.RatePerMinute)];
        stack.Add("Breaths, /min", SmallHeight, Around(all, 8, 0, null), 3, v => Words.Number(v, 0), panel =>
        {
            var trace = new SecondsTrace(stack, At(breathing[0].StartSeconds), length, breathing.Count, i => breathing[i].RatePerMinute);
            trace.Gaps(panel, "The respiratory rate is refused here");
            trace.Dots(panel);
            trace.Line(panel, Ink.Trace, 2);
        }, [($"each {Words.Span(length)} window", null)], Aside(section.Summary.RespiratoryRate, "0.0"));
    }

    private void States()
    {
        stack.Heading("Why no numbers", states.Count == 0 ? "every second shown here carries numbers" : null);
        if (states.Count == 0)
        {
            stack.Row("", [], "");
            return;
        }

        var stretches = DerivedSummary.Stretches(derived).Where(s => s.Span.End > stack.Time.From && s.Span.Start < stack.Time.To).ToList();
        foreach (var state in states)
        {
            var own = stretches.Where(s => s.State == state).ToList();
            var within = own.Aggregate(Duration.Zero, (sum, s) => sum + (Earlier(s.Span.End, stack.Time.To) - Later(s.Span.Start, stack.Time.From)));
            stack.Row(state.InWords(), own.Select(s => (s.Span, $"{state.InWords()}, {Words.Span(s.Span.Length)}")), Words.Span(within));
        }
    }

    private SecondsTrace Of(Func<SecondReading, double> value) =>
        new(stack, derived.Start, new Duration(1000), derived.Seconds.Count, i => value(derived.Seconds[i]));

    private List<(string Text, Action<double, double>? Key)> Legend()
    {
        var legend = new List<(string, Action<double, double>?)>();
        if (!isDetail && derived.Seconds.Count > PanelStack.Columns) legend.AddRange([("mean", Stroke), ("low to high", (x, y) => stack.Canvas.Rect(x, y - 5, 16, 11, new Paint(Ink.Envelope)))]);
        legend.Add(("number refused", (x, y) => stack.Canvas.Rect(x, y - 5, 16, 11, new Paint(stack.Canvas.Fill(Pattern.Gap), Ink.Hatch, 0.5))));
        return legend;
    }

    private void Stroke(double x, double y) => stack.Canvas.Line(x, y, x + 16, y, Paint.Line(Ink.Trace, 1.6));

    private void BeatMark(double x, double y) => stack.Canvas.Path(new PathText().MoveTo(x - 4.5, y).LineTo(x + 4.5, y).LineTo(x, y + 8).Close(), new Paint(Ink.Text));

    private void Dot(double x, double y, bool isFull) => stack.Canvas.Circle(x, y, isFull ? 2.6 : 2.8, isFull ? new Paint(Ink.Trace) : new Paint(Ink.Paper, Ink.Trace, 1.3));

    private List<string>? Aside(DerivedSummary.Spread? spread, string format)
    {
        if (isDetail || spread is null) return null;
        var culture = System.Globalization.CultureInfo.InvariantCulture;
        return [$"median {spread.Median.ToString(format, culture)}", $"{spread.Least.ToString(format, culture)} to {spread.Greatest.ToString(format, culture)}"];
    }

    // Round ends that hold all numbers, at least so far apart.
    private static (double From, double To) Around(double[] all, double leastSpan, double floor, double? fixedFloor)
    {
        var spread = DerivedSummary.Spread.Of(all);
        if (spread is null) return (floor, floor + leastSpan);
        double middle = (spread.Least + spread.Greatest) / 2, half = Math.Max(spread.Greatest - spread.Least, leastSpan) / 2;
        double step = Ticks.Step(half * 2, 4);
        double from = fixedFloor ?? Math.Max(floor, Math.Floor((middle - half) / step) * step);
        return (from, Math.Max(Math.Ceiling(Math.Max(middle + half, spread.Greatest) / step - 1e-9) * step, from + leastSpan));
    }

    private IEnumerable<SecondReading> SecondsWithin()
    {
        int first = (int)((stack.Time.From - derived.Start).Milliseconds / 1000), after = (int)((stack.Time.To - derived.Start).Milliseconds / 1000);
        return derived.Seconds.Skip(first).Take(after - first);
    }

    private IEnumerable<Beat> BeatsWithin() => derived.Beats.Where(b => At(b.UpstrokeSeconds) >= stack.Time.From && At(b.UpstrokeSeconds) <= stack.Time.To);

    private SampleTime At(double seconds) => derived.Start + new Duration((long)Math.Round(seconds * 1000));

    private static double? ValueAt(Channel channel, SampleTime time)
    {
        int after = channel.Times.IndexAtOrAfter(time);
        if (after >= channel.Times.Count) return null;
        int nearest = after > 0 && time - channel.Times.TimeAt(after - 1) < channel.Times.TimeAt(after) - time ? after - 1 : after;
        foreach (var (_, value) in SampleColumns.Within(channel, channel.Times.TimeAt(nearest), channel.Times.TimeAt(nearest))) return value;
        return null;
    }

    private static SampleTime Earlier(SampleTime one, SampleTime other) => one < other ? one : other;

    private static SampleTime Later(SampleTime one, SampleTime other) => one > other ? one : other;
}
