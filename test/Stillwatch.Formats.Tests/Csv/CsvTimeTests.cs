using Stillwatch.Formats.Csv;

namespace Stillwatch.Formats.Tests.Csv;

public class CsvTimeTests
{
    // header | times of the rows | what is known of the start | seconds of the rows | what was assumed (codes)
    public static readonly TheoryData<string, string, string, string, string> Forms = new()
    {
        { "time", "2026-03-01T22:00:00;2026-03-01T22:00:01;2026-03-01T22:00:02.5", "local 2026-03-01T22:00:00", "0 1 2.5", "time.uneven" },
        { "timestamp", "2026-03-01T22:00:00Z;2026-03-01T22:00:01Z", "zoned 2026-03-01T22:00:00+00:00", "0 1", "" },
        { "timestamp", "2026-03-01 22:00:00+01:00;2026-03-01 22:00:01+01:00", "zoned 2026-03-01T22:00:00+01:00", "0 1", "" },
        { "timestamp", "2026-10-25T02:59:59+0200;2026-10-25T02:00:00+0100", "zoned 2026-10-25T02:59:59+02:00", "0 1", "" },
        { "time", "20260301T220000;20260301T220001", "local 2026-03-01T22:00:00", "0 1", "" },
        { "Zeit", "31.01.2026 22:00:05;31.01.2026 22:00:06", "local 2026-01-31T22:00:05", "0 1", "" },
        { "time", "31/01/2026 22:00:05;31/01/2026 22:00:06", "local 2026-01-31T22:00:05", "0 1", "" },
        { "time", "1/31/2026 10:00:05 PM;1/31/2026 10:00:06 PM", "local 2026-01-31T22:00:05", "0 1", "" },
        { "time", "31-Jan-2026 22:00:05;31-Jan-2026 22:00:06", "local 2026-01-31T22:00:05", "0 1", "" },
        { "time", "03/04/2026 22:00:05;03/04/2026 22:00:06", "local 2026-04-03T22:00:05", "0 1", "time.date-order" },
        { "Time", " 22:00:05; 22:00:06", "of day 22:00:05", "0 1", "" },
        { "Time", "22:00:05.25;22:00:06.25", "of day 22:00:05.25", "0 1", "" },
        { "Time", "12:59:59 AM;1:00:00 AM", "of day 00:59:59", "0 1", "" },
        { "Time", "22:05;22:06", "of day 22:05:00", "0 60", "time.form" },
        { "Time", "23:59:58;23:59:59;00:00:00;00:00:01", "of day 23:59:58", "0 1 2 3", "time.midnight" },
        { "elapsed", "1:00:00;1:00:01", "unknown", "0 1", "time.origin" },
        { "Time", "0:00:00;0:00:01", "unknown", "0 1", "time.form" },
        { "clock", "0:00:00;0:00:01", "of day 00:00:00", "0 1", "" },
        { "Time", "23:59:59;24:00:00;24:00:01", "unknown", "0 1 2", "time.origin" },
        { "Time (mm:ss)", "59:58;59:59;60:00", "unknown", "0 1 2", "time.form time.origin" },
        { "time_s", "0;0.5;1.25", "unknown", "0 0.5 1.25", "time.uneven" },
        { "t [ms]", "0;40;80", "unknown", "0 0.04 0.08", "" },
        { "Elapsed (min)", "0;0.5;1", "unknown", "0 30 60", "" },
        { "seconds", "5;6;7", "unknown", "0 1 2", "time.origin" },
        { "time", "0;1;2", "unknown", "0 1 2", "time.unit" },
        { "time", "0;33;66;101;133;170;199", "unknown", "0 0.033 0.066 0.101 0.133 0.17 0.199", "time.uneven time.unit" },
        { "epoch", "1772402400;1772402401", "zoned 2026-03-01T22:00:00+00:00", "0 1", "time.unit" },
        { "time", "1772402400000;1772402400500", "zoned 2026-03-01T22:00:00+00:00", "0 0.5", "time.unit" },
        { "time", "46082.5;46082.50001157;46082.50002315", "local 2026-03-01T12:00:00", "0 1 2", "time.rounded time.unit" },
        { "time_s", "0;1.00049;2", "unknown", "0 1 2", "time.rounded" },
    };

    [Theory]
    [MemberData(nameof(Forms))]
    public void Each_form_of_time_is_read_and_no_more_is_claimed_than_it_says(string header, string times, string start, string seconds, string assumed)
    {
        var result = Table.Read($"{header}|SpO2\n{string.Concat(times.Split(';').Select(t => $"{t}|97\n"))}");

        Assert.Equal(start, result.Recording!.Start.Show());
        Assert.Equal(seconds, result.Recording!.Seconds());
        Assert.Equal(assumed, result.Codes());
    }

    [Theory]
    [InlineData(DateOrder.DayFirst, "local 2026-04-03T22:00:00")]
    [InlineData(DateOrder.MonthFirst, "local 2026-03-04T22:00:00")]
    public void The_order_of_day_and_month_can_be_told(DateOrder order, string start)
    {
        var result = Table.Read("time,SpO2\n03/04/2026 22:00:00,97\n", new CsvReadOptions { DateOrder = order });

        Assert.Equal(start, result.Recording!.Start.Show());
        Assert.False(result.Has("time.date-order"));
    }

    [Fact]
    public void Date_and_time_in_two_columns_belong_together()
    {
        var recording = Table.Recording("Date,Time,SpO2\n2026-03-01,23:59:59,97\n2026-03-02,00:00:00,96\n");

        Assert.Equal("local 2026-03-01T23:59:59", recording.Start.Show());
        Assert.Equal("0 1", recording.Seconds());
    }

    [Fact]
    public void A_row_whose_time_cannot_be_read_is_not_used_and_is_counted()
    {
        var result = Table.Read("time_s,SpO2\n0,97\nx,96\n,95\n3,94\n");

        Assert.Equal("0 3", result.Recording!.Seconds());
        var issue = result.Issue("time.unreadable");
        Assert.Equal((2, "line 3"), (issue.Count, issue.Place));
        Assert.Contains("x,96", issue.Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2026-02-30T00:00:00")]
    [InlineData("2026-03-01T24:00:00")]
    [InlineData("2026-03-01T22:60:00")]
    [InlineData("2026-03-01T22:00:60")]
    [InlineData("2026-03-01")]
    [InlineData("22:00:00")]
    [InlineData("2026-03-01T22:00:00Z")]
    [InlineData("2026-03-01T22:00:00 CET")]
    public void A_time_that_does_not_exist_or_says_less_or_more_than_the_others_is_not_guessed_at(string time)
    {
        var result = Table.Read($"time,SpO2\n2026-03-01T21:00:00,97\n2026-03-01T21:00:01,97\n2026-03-01T21:00:02,97\n{time},96\n");

        Assert.Equal(3, result.Recording!.Channels[0].Times.Count);
        Assert.Equal(1, result.Count("time.unreadable"));
    }

    [Fact]
    public void Of_rows_with_one_time_the_first_is_kept()
    {
        var result = Table.Read("time_s,SpO2\n0,97\n0,90\n1,96\n1,91\n1,92\n2,95\n");

        Assert.Equal("97 96 95", result.Recording!.Values(Signals.ChannelKind.SpO2));
        Assert.Equal((3, "line 3"), (result.Issue("time.repeated").Count, result.Issue("time.repeated").Place));
    }

    [Fact]
    public void Rows_out_of_order_are_put_in_order_and_counted()
    {
        var result = Table.Read("time_s,SpO2\n10,97\n12,95\n11,96\n13,94\n9,98\n11,50\n");

        Assert.Equal("98 97 96 95 94", result.Recording!.Values(Signals.ChannelKind.SpO2));
        Assert.Equal("0 1 2 3 4", result.Recording!.Seconds());
        Assert.Equal(3, result.Count("time.out-of-order"));
        Assert.Equal(1, result.Count("time.repeated"));
    }

    [Fact]
    public void A_file_with_the_newest_row_first_is_turned_round()
    {
        var result = Table.Read("time,SpO2\n2026-03-01T22:00:02,95\n2026-03-01T22:00:01,96\n2026-03-01T22:00:00,97\n");

        Assert.Equal("97 96 95", result.Recording!.Values(Signals.ChannelKind.SpO2));
        Assert.Equal("local 2026-03-01T22:00:00", result.Recording!.Start.Show());
    }

    [Fact]
    public void A_late_row_of_the_evening_stays_before_midnight()
    {
        var result = Table.Read("Time,SpO2\n23:59:58,97\n00:00:00,95\n23:59:59,96\n00:00:01,94\n");

        Assert.Equal("97 96 95 94", result.Recording!.Values(Signals.ChannelKind.SpO2));
        Assert.Equal("0 1 2 3", result.Recording!.Seconds());
    }

    [Fact]
    public void Without_a_time_column_the_file_is_refused_and_the_error_says_what_to_do()
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read("SpO2,Pulse\n97,70\n96,71\n"));

        Assert.Contains("\"SpO2\", \"Pulse\"", error.Found, StringComparison.Ordinal);
        Assert.Contains("--map time=", error.LikelyCause, StringComparison.Ordinal);
        Assert.Contains("--period S", error.LikelyCause, StringComparison.Ordinal);
        Assert.Equal("test.csv, line 1", error.Where);
    }

    [Fact]
    public void Rows_to_be_counted_without_a_period_ask_for_it()
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read("time,SpO2\n0,70\n0,71\n", Table.Map("time=none")));

        Assert.Equal("--map time=none without --period", error.Found);
        Assert.Contains("--period S", error.LikelyCause, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("31/04/03", "local 2031-04-03T22:00:00")]
    [InlineData("26.04.03", "local 2026-04-03T22:00:00")]
    [InlineData("2026/04/03", "local 2026-04-03T22:00:00")]
    public void A_short_year_can_come_first(string date, string start)
    {
        Assert.Equal(start, Table.Recording($"time,SpO2\n{date} 22:00:00,97\n", new CsvReadOptions { DateOrder = DateOrder.YearFirst }).Start.Show());
    }

    [Fact]
    public void Without_a_time_column_a_declared_period_times_the_rows()
    {
        var result = Table.Read("SpO2,Pulse\n97,70\n96,71\n", new CsvReadOptions { DeclaredPeriod = new Time.Duration(2000) });

        Assert.Equal("0 2", result.Recording!.Seconds());
        Assert.Equal("unknown", result.Recording!.Start.Show());
        Assert.True(result.Has("time.none"));
        Assert.True(result.Recording!.Channels[0].Times.IsPeriodDeclared);
    }

    [Fact]
    public void Times_too_coarse_to_tell_rows_apart_can_be_left_aside_for_a_declared_period()
    {
        var options = Table.Map("time=none") with { DeclaredPeriod = new Time.Duration(8) };
        var result = Table.Read("Time [s],PLETH\n100.02,1\n100.02,2\n100.03,3\n", options);

        Assert.Equal("0 0.008 0.016", result.Recording!.Seconds());
    }

    [Fact]
    public void A_declared_rate_counts_rows_whose_period_is_no_whole_millisecond()
    {
        var result = Table.Read("R,G\n1,7\n2,7\n3,7\n4,7\n", new CsvReadOptions { DeclaredRate = Time.SampleRate.Of(30, 1000), Wanted = null });

        var times = result.Recording!.Channels[0].Times;
        Assert.Equal("0 0.033 0.067 0.1", result.Recording!.Seconds());
        Assert.Equal(Time.SampleRate.Of(30, 1000), times.Rate);
        Assert.True(times.IsEven);
        Assert.True(result.Has("time.none"));
    }

    [Fact]
    public void The_unit_of_a_time_column_can_be_told()
    {
        Assert.Equal("0 0.001 0.002", Table.Recording("time,SpO2\n0,97\n1,97\n2,97\n", Table.Map("time-unit=ms")).Seconds());
    }

    [Fact]
    public void A_time_column_without_a_name_is_known_by_its_content()
    {
        var result = Table.Read(",SpO2\n 13:11:55,97\n 13:11:56,96\n");

        Assert.Equal("of day 13:11:55", result.Recording!.Start.Show());
        Assert.True(result.Has("time.by-content"));
    }
}
