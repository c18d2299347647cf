using System.Text.Json;
using Stillwatch.Accuracy.Recordings;
using Stillwatch.Accuracy.Rows;

namespace Stillwatch.Accuracy.Tests;

public class CommandTests
{
    private static readonly OpenData Nothing = new(Path.Combine(AppContext.BaseDirectory, "no-such-folder"));

    // arguments | exit code: 0 measured and met, 2 not understood, 3 data are missing
    [Theory]
    [InlineData("--help", 0)]
    [InlineData("--only standard-curve", 0)]
    [InlineData("--only standard-curve --json", 0)]
    [InlineData("--only icu-beats", 3)]
    [InlineData("--only camera-pulse-rate", 3)]
    [InlineData("--fast", 2)]
    [InlineData("--only", 2)]
    [InlineData("--only no-such-row", 2)]
    [InlineData("--verify --only icu-beats", 2)]
    public void Exit_codes_say_what_became_of_it(string arguments, int exitCode) => Assert.Equal(exitCode, Run(arguments).Exit);

    [Fact]
    public void A_row_whose_data_are_missing_says_so_and_shows_no_figure()
    {
        string printed = Run("--only icu-beats").Printed;
        Assert.Contains("not measured: " + OpenRows.Missing, printed, StringComparison.Ordinal);
        Assert.DoesNotContain("sensitivity", printed, StringComparison.Ordinal);
    }

    [Fact]
    public void Json_holds_data_figure_reach_and_source_of_a_row()
    {
        using var page = JsonDocument.Parse(Run("--only standard-curve --json").Printed);
        var row = page.RootElement.GetProperty("rows")[0];
        var figure = row.GetProperty("figures")[0];

        Assert.StartsWith("Severinghaus", row.GetProperty("source").GetString(), StringComparison.Ordinal);
        // Own computation over the 51 points: 0.546 % at 150 Torr; the paper states 0.55 %.
        Assert.Equal(0.546, figure.GetProperty("value").GetDouble(), 3);
        Assert.Equal(("≤ 0.55 %", "met"), (figure.GetProperty("reach").GetString(), figure.GetProperty("verdict").GetString()));
    }

    private static (int Exit, string Printed) Run(string arguments)
    {
        using StringWriter output = new(), errors = new();
        int exit = AccuracyCommand.Run(arguments.Split(' '), Nothing, output, errors);
        Assert.Equal(exit == 2, errors.ToString().Length > 0);
        return (exit, output.ToString());
    }
}
