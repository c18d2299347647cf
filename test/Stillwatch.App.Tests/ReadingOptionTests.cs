using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>What a message advises can be done: the options that it names exist and help.</summary>
public sealed class ReadingOptionTests : IDisposable
{
    private readonly Folder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Rows_without_times_are_counted_at_the_period_that_the_message_asks_for()
    {
        string file = folder.Write("rows.csv", "SpO2,Pulse\n" + string.Concat(Enumerable.Repeat("97,70\n", 90)));
        Assert.Contains("declare the seconds from row to row with --period S", Ran.With("inspect", file).ErrorWords, StringComparison.Ordinal);
        Assert.Equal(180, Ran.With("inspect", file, "--period", "2", "--json").Json().GetProperty("recordings")[0].GetProperty("durationSeconds").GetDouble());
    }

    [Fact]
    public void Rows_are_counted_at_a_rate_whose_period_is_no_whole_millisecond()
    {
        string file = folder.Write("frames.csv", "SpO2,Pulse\n" + string.Concat(Enumerable.Repeat("97,70\n", 90)));
        Assert.Equal(3, Ran.With("inspect", file, "--rate", "30", "--json").Json().GetProperty("recordings")[0].GetProperty("durationSeconds").GetDouble(), 0.001);
        Assert.Contains("expected one of them", Ran.With("inspect", file, "--rate", "30", "--period", "2").ErrorWords, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("inspect")]
    [InlineData("review")]
    [InlineData("tune")]
    public void Times_left_aside_without_a_period_name_the_option_that_is_wanting(string command)
    {
        string file = folder.Write("coarse.csv", "Time,SpO2\n" + string.Concat(Enumerable.Range(0, 90).Select(t => $"{t / 10},97\n")));
        var ran = Ran.With(command, file, "--map", "time=none");
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("--map time=none without --period", ran.ErrorWords, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, Ran.With(command, file, "--map", "time=none", "--period", "0.5").ExitCode);
    }

    [Theory]
    [InlineData("03/04/2026", "dmy", "2026-04-03")]
    [InlineData("03/04/2026", "mdy", "2026-03-04")]
    [InlineData("26/04/03", "ymd", "2026-04-03")]
    [InlineData("2026-04-03", "ymd", "2026-04-03")]
    public void The_order_of_a_date_can_be_told(string date, string order, string day)
    {
        string file = folder.Write("dates.csv", $"Time,SpO2\n{date} 22:00:00,97\n{date} 22:00:01,97\n");
        var recording = Ran.With("inspect", file, "--date-order", order, "--json").Json().GetProperty("recordings")[0];
        Assert.Equal(day + "T22:00:00", recording.GetProperty("start").GetString());
        Assert.DoesNotContain("time.date-order", recording.GetProperty("issues").GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_date_in_doubt_names_the_option_that_settles_it()
    {
        string file = folder.Write("dates.csv", "Time,SpO2\n03/04/2026 22:00:00,97\n03/04/2026 22:00:01,97\n");
        Assert.Contains("--date-order mdy", Ran.With("inspect", file).Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--period", "0")]
    [InlineData("--period", "1 s")]
    [InlineData("--period", "0.0005")]
    [InlineData("--period", "90000")]
    [InlineData("--rate", "0")]
    [InlineData("--rate", "30 Hz")]
    [InlineData("--rate", "1001")]
    [InlineData("--date-order", "euro")]
    public void A_wrong_value_is_found_and_what_is_expected_is_said(string option, string value)
    {
        var ran = Ran.With("inspect", folder.WriteNight("night.csv", 60), option, value);
        Assert.Equal(ExitCode.Usage, ran.ExitCode);
        Assert.Contains($"{option}: found '{value}', expected ", ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("review")]
    [InlineData("tune")]
    [InlineData("ward")]
    [InlineData("inspect")]
    public void Every_command_that_reads_has_the_reading_options(string command)
    {
        string help = Ran.With(command, "--help").Out;
        foreach (string option in new[] { "--channel", "--map", "--period", "--date-order" }) Assert.Contains($"\n  {option} ", help, StringComparison.Ordinal);
    }

    [Fact]
    public void A_misspelt_map_says_so_once()
    {
        string error = Ran.With("inspect", "a.csv", "--map", "sp02=SpO2").Error;
        Assert.StartsWith("stillwatch: --map: found key \"sp02\", expected one of ", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_misspelt_channel_shows_the_SpO2_columns_first_and_not_all_of_them()
    {
        string file = folder.Write("many.csv", "Time," + string.Join(',', Enumerable.Range(1, 40).Select(i => $"X{i}")) + ",SpO2 1,SpO2 2\n" + string.Concat(Enumerable.Range(0, 20).Select(t => t + string.Concat(Enumerable.Repeat(",97", 42)) + "\n")));
        string words = Ran.With("review", file, "--channel", "SpO2 3").ErrorWords;
        Assert.Contains("found the columns \"SpO2 1\", \"SpO2 2\", \"Time\", \"X1\"", words, StringComparison.Ordinal);
        Assert.Contains("and 31 more", words, StringComparison.Ordinal);
        Assert.DoesNotContain("\"X20\"", words, StringComparison.Ordinal);
    }
}
