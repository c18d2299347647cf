using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Formats.Csv.Text;

namespace Stillwatch.Formats.Csv.Times;

/// <summary>Decides how the times of a column are to be read, and lists what had to be assumed.</summary>
internal sealed class TimeFormFinder(CsvLayout layout, CsvReadOptions options, IssueLog issues)
{
    public TimePlan Plan(int column, int dateColumn)
    {
        var cells = layout.Sample.Where(r => column < r.Length && !string.IsNullOrWhiteSpace(r[column])).Select(r => r[column]).ToList();
        var clocks = new List<ClockReading>();
        foreach (string cell in cells)
        {
            if (CellShapes.Of(cell) != CellShape.Number && ClockText.TryRead(cell, DateOrder.Ask, out var reading) && reading.HasClock) clocks.Add(reading);
        }

        bool isNumber = cells.Count(c => CellShapes.Of(c) == CellShape.Number) > clocks.Count || options.Map.TimeUnit is not null;
        if (isNumber) return PlanNumber(column, cells);
        if (dateColumn >= 0) return new TimePlan(TimeForm.Local, column, dateColumn, Order: OrderOf(dateColumn));
        if (clocks.Count(c => c.HasDate) * 2 <= clocks.Count) return PlanBareClock(column, clocks);
        bool zoned = clocks.Count(c => c.HasZone) * 2 > clocks.Count;
        return new TimePlan(zoned ? TimeForm.Zoned : TimeForm.Local, column, Order: OrderOf(column));
    }

    private string Place(int column) => $"line {layout.FirstRowLineNumber}, column {layout.LabelOf(column)}";

    private TimePlan PlanBareClock(int column, List<ClockReading> clocks)
    {
        var header = layout.NameOf(column);
        bool twoParts = clocks.Count > 0 && clocks.TrueForAll(c => !c.HasSeconds && !c.IsTwelveHour);
        bool pastADay = clocks.Exists(c => c.Hours > 23);
        if (twoParts && (pastADay || header.Raw.Contains("mm:ss", StringComparison.OrdinalIgnoreCase) && !header.Raw.Contains("h:mm", StringComparison.OrdinalIgnoreCase)))
        {
            issues.Note(CsvIssueCodes.TimeForm, "", Place(column), "two parts, as in 59:30", "a clock with hours, minutes and seconds", "minutes and seconds since the beginning; start unknown");
            return new TimePlan(TimeForm.ElapsedMinutes, column);
        }

        if (pastADay || LabelVocabulary.MeansElapsed(header)) return new TimePlan(TimeForm.ElapsedClock, column);
        if (clocks.Count > 0 && clocks[0].MillisecondsOfDay == 0 && !clocks[0].IsTwelveHour && !LabelVocabulary.MeansWallClock(header))
        {
            issues.Note(CsvIssueCodes.TimeForm, "", Place(column), "times that begin at 0:00:00", "a time of day, or elapsed time",
                "time elapsed since the first row; start unknown (it might also be midnight)");
            return new TimePlan(TimeForm.ElapsedClock, column);
        }

        if (twoParts)
        {
            issues.Note(CsvIssueCodes.TimeForm, "", Place(column), "times of two parts, as in 22:05", "a clock with seconds", "hours and minutes");
        }

        return new TimePlan(TimeForm.TimeOfDay, column);
    }

    private DateOrder OrderOf(int column)
    {
        var slashed = new List<ClockReading>();
        foreach (var row in layout.Sample)
        {
            if (column < row.Length && ClockText.TryRead(row[column], DateOrder.Ask, out var reading) && reading.DateStyle == DateStyle.Slashed) slashed.Add(reading);
        }

        if (options.DateOrder != DateOrder.Ask) return options.DateOrder;
        if (slashed.Count == 0) return DateOrder.DayFirst;
        bool dayFirst = slashed.Exists(s => s.FirstComponent > 12);
        bool monthFirst = slashed.Exists(s => s.SecondComponent > 12);
        if (dayFirst != monthFirst) return dayFirst ? DateOrder.DayFirst : DateOrder.MonthFirst;
        var first = slashed[0];
        issues.Doubt(CsvIssueCodes.TimeDateOrder, "", Place(column), $"dates such as {first.FirstComponent:00}/{first.SecondComponent:00}",
            "a date whose day and month can be told apart", "day first; --date-order mdy (or ymd) says otherwise");
        return DateOrder.DayFirst;
    }

    private TimePlan PlanNumber(int column, List<string> cells)
    {
        var values = new List<decimal>();
        foreach (string cell in cells)
        {
            if (DecimalText.ReadDecimal(cell, layout.DecimalMark, out decimal value) == NumberReading.Number) values.Add(value);
        }

        return new TimePlan(TimeForm.Number, column, Unit: options.Map.TimeUnit ?? UnitOf(column, values));
    }

    private NumericTimeUnit UnitOf(int column, List<decimal> values)
    {
        var told = LabelVocabulary.TimeUnitOf(layout.NameOf(column));
        decimal middle = values.Count == 0 ? 0 : values.Order().ElementAt(values.Count / 2);
        if (told is null or NumericTimeUnit.Seconds or NumericTimeUnit.Milliseconds)
        {
            // Moments since 1970 lie so far out that no elapsed time is mistaken for them: 2001 to 2128.
            if (middle is >= 1e9m and < 5e9m && told is null or NumericTimeUnit.Seconds) return Epoch(column, NumericTimeUnit.EpochSeconds, "seconds");
            if (middle is >= 1e12m and < 5e12m && told is null or NumericTimeUnit.Milliseconds) return Epoch(column, NumericTimeUnit.EpochMilliseconds, "milliseconds");
        }

        if (told is { } unit) return unit;
        if (middle is >= 20_000m and < 80_000m && values.Exists(v => v != decimal.Truncate(v)) && LargestStep(values) < 1)
        {
            issues.Doubt(CsvIssueCodes.TimeUnit, "", Place(column), $"times such as {values[0]} without a unit", "a unit",
                "days of a spreadsheet, where day 1 is 1900-01-01 (some count from 1904); zone unknown");
            return NumericTimeUnit.SerialDays;
        }

        if (LooksLikeMilliseconds(values))
        {
            issues.Doubt(CsvIssueCodes.TimeUnit, "", Place(column), $"whole numbers, {MedianStep(values)} apart, without a unit", "a unit",
                "milliseconds; --map time-unit=s says otherwise");
            return NumericTimeUnit.Milliseconds;
        }

        issues.Doubt(CsvIssueCodes.TimeUnit, "", Place(column), $"numbers, {MedianStep(values)} apart, without a unit", "a unit", "seconds; --map time-unit=ms says otherwise");
        return NumericTimeUnit.Seconds;
    }

    private NumericTimeUnit Epoch(int column, NumericTimeUnit unit, string word)
    {
        issues.Note(CsvIssueCodes.TimeUnit, "", Place(column), "very large numbers", "a date", $"{word} since 1970-01-01 UTC");
        return unit;
    }

    private static List<decimal> Steps(List<decimal> values) => [.. values.Zip(values.Skip(1), (a, b) => b - a)];

    private static decimal LargestStep(List<decimal> values) => Steps(values).DefaultIfEmpty().Max();

    private static decimal MedianStep(List<decimal> values)
    {
        var steps = Steps(values).Order().ToList();
        return steps.Count == 0 ? 0 : steps[(steps.Count - 1) / 2];
    }

    // A clock that counts whole seconds steps evenly; whole numbers that jitter around some tens are a finer count, and so are
    // steps of about 1000. Charted intervals (every 5, 15 or 60 minutes) lie outside both.
    private static bool LooksLikeMilliseconds(List<decimal> values)
    {
        var steps = Steps(values);
        if (steps.Count < 3 || values.Exists(v => v != decimal.Truncate(v))) return false;
        decimal median = MedianStep(values);
        bool jitters = steps.Distinct().Count() > Math.Min(3, steps.Count / 2);
        return (median is >= 4 and <= 50 && jitters) || median is >= 950 and <= 1050;
    }
}
