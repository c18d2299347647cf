using System.Globalization;
using System.Text.RegularExpressions;
using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Formats;
using Stillwatch.Formats.Csv;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>What a person says about how a file is to be read; all of it may be left to the reader.</summary>
public sealed partial record ReadingAnswers
{
    /// <summary>The label of the column that is SpO2; empty: the reader chooses.</summary>
    public string SpO2 { get; set; } = "";

    public string PulseRate { get; set; } = "";

    /// <summary>The time column by header or number; empty: the reader finds it.</summary>
    public string Time { get; set; } = "";

    /// <summary>Further columns in the words of --map.</summary>
    public string Others { get; set; } = "";

    /// <summary>Seconds from row to row where the file has no times.</summary>
    public decimal? PeriodSeconds { get; set; }

    public DateOrder DateOrder { get; set; }

    /// <exception cref="StopException">Exit code 2: what was typed cannot be understood.</exception>
    public ReadingChoices Choices(Action<long>? progress = null)
    {
        if (PeriodSeconds is { } seconds and (< 0.001m or > 86_400m))
            throw StopException.Usage(new Trouble("cannot read the file so", $"{seconds.ToString(CultureInfo.InvariantCulture)} seconds from row to row", "0.001 to 86400 seconds", "Seconds from row to row", "a rate was typed in place of a period"));
        return new ReadingChoices(Map(), Channel: null, Category: null, PeriodSeconds is { } period ? Duration.FromSeconds(period) : null, Rate: null, DateOrder, ImportBatch.Everything, progress);
    }

    /// <summary>A name may hold commas; "#2" is a number, and quoted it would be a name.</summary>
    private static string Quoted(string column) => ColumnNumber().IsMatch(column) ? column : $"\"{column}\"";

    [GeneratedRegex("^#-?[0-9]+$")]
    private static partial Regex ColumnNumber();

    private ColumnMap Map()
    {
        var entries = new List<string>();
        if (SpO2.Length > 0) entries.Add($"spo2={Quoted(SpO2)}");
        if (PulseRate.Length > 0) entries.Add($"pulse={Quoted(PulseRate)}");
        if (Time.Trim().Length > 0) entries.Add($"time={Quoted(Time.Trim())}");
        if (Others.Trim().Length > 0) entries.Add(Others.Trim());
        if (entries.Count == 0) return ColumnMap.Empty;
        try
        {
            return ColumnMap.Parse(string.Join(',', entries));
        }
        catch (FormatException e)
        {
            throw StopException.Usage(new Trouble("cannot use these columns", e.Message, "each column named once", "Columns", "a name is misspelled, or a quotation mark is missing"));
        }
    }
}
