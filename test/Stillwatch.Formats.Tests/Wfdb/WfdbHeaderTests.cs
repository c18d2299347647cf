using Stillwatch.Formats.Labels;
using Stillwatch.Formats.Wfdb;
using Stillwatch.Formats.Wfdb.Header;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Wfdb;

/// <summary>The fields of header(5), one by one: what is read, what is assumed and listed, and what is refused.</summary>
public class WfdbHeaderTests
{
    // a damaged or unusual field | header (; ends a line) | what is listed, or "refused" | a word of what it says
    private const string Table = """
        a name that is not the file's      | day 1 1 10; night.dat 16 10/% 16 0 970 9250 0 SpO2            | Doubt header.name             | "day"
        no number of signals               | night; night.dat 16                                           | refused                       | number of signals
        letters for a number of signals    | night two; night.dat 16                                       | refused                       | "two"
        a negative number of signals       | night -1 1; night.dat 16                                      | refused                       | "-1"
        more signals than any record has   | night 99999 1; night.dat 16                                   | refused                       | "99999"
        zero segments                      | night/0 1 1                                                   | refused                       | number of segments
        a frequency of zero                | night 1 0 10; night.dat 16                                    | refused                       | "0"
        a frequency that is no number      | night 1 1e99 10; night.dat 16                                 | refused                       | "1e99"
        a negative frequency               | night 1 -5 10; night.dat 16                                   | refused                       | "-5"
        no frequency                       | night 1; night.dat 16 10/% 16 0 970 9250 0 SpO2                | Doubt header.default          | no sampling frequency
        letters for a number of samples    | night 1 1 ten; night.dat 16 10/% 16 0 970 9250 0 SpO2          | Doubt header.field            | "ten"
        zero for a number of samples       | night 1 1 0; night.dat 16 10/% 16 0 970 9250 0 SpO2            | Note file.count-unknown       | no number of samples
        too many samples                   | night 1 1 99999999999; night.dat 16 10/% 16 0 970 9250 0 SpO2  | Doubt file.short              | 10 frames
        too few samples                    | night 1 1 8; night.dat 16 10/% 16 0 970 7480 0 SpO2            | Doubt file.long               | 4 bytes
        a time that is none                | night 1 1 10 25:00:00 1/2/2020; night.dat 16 10/% 0 0 970 9250 0 SpO2 | Doubt header.start      | "25:00:00"
        a date that is none                | night 1 1 10 1:00:00 31/2/2020; night.dat 16 10/% 0 0 970 9250 0 SpO2 | Doubt header.start      | "31/2/2020"
        zeros for time and date            | night 1 1 10 0:0:0 0/0/0; night.dat 16 10/% 16 0 970 9250 0 SpO2 | Note header.start            | "0/0/0"
        words after the date               | night 1 1 10 1:0:0 1/2/2020 X; night.dat 16 10/% 0 0 970 9250 0 SpO2 | Doubt header.field       | "X"
        fewer signal lines than signals    | night 2 1 10; night.dat 16 10/% 16 0 970 9250 0 SpO2            | Failure header.lines-missing  | 1 signal lines
        more signal lines than signals     | night 1 1 10; night.dat 16 10/% 16 0 970 9250 0 SpO2; b.dat 16  | Doubt header.lines-surplus    | 2 signal lines
        another checksum                   | night 1 1 10; night.dat 16 10/% 16 0 970 9251 0 SpO2            | Doubt signal.checksum         | 9250
        a checksum without a sign          | night 1 1 10; night.dat 16 10/% 16 0 970 74786 0 SpO2           | none                          |
        another first sample               | night 1 1 10; night.dat 16 10/% 16 0 971 9250 0 SpO2            | Doubt signal.initial-value    | 970
        a first sample that is no number   | night 1 1 10; night.dat 16 10/% 16 0 9x 9250 0 SpO2             | Doubt header.field            | "9x"
        format 0                           | night 1 1 10; night.dat 0 10/% 16 0 970 9250 0 SpO2             | Failure signal.refused        | format 0
        a compressed format                | night 1 1 10; night.dat 516 10/% 16 0 970 9250 0 SpO2           | Failure signal.refused        | format 516
        letters for a format               | night 1 1 10; night.dat XVI 10/% 16 0 970 9250 0 SpO2           | Failure signal.refused        | cannot be read
        no format                          | night 1 1 10; night.dat                                        | Failure signal.refused        | cannot be read
        no samples in a frame              | night 1 1 10; night.dat 16x0 10/% 16 0 970 9250 0 SpO2          | Failure signal.refused        | cannot be read
        too many samples in a frame        | night 1 1 10; night.dat 16x999999999 10/% 16 0 970 9250 0 SpO2  | Failure signal.refused        | cannot be read
        a frame longer than the file       | night 1 1 10; night.dat 16x1000000 10/% 16 0 970 9250 0 SpO2    | Failure signal.no-file        | 20 bytes
        a negative skew                    | night 1 1 10; night.dat 16:-5 10/% 16 0 970 9250 0 SpO2         | Failure signal.refused        | cannot be read
        a skew                             | night 1 1 10; night.dat 16:3 10/% 16 0 970 9250 0 SpO2          | Note signal.skew              | skew of 3
        a skew longer than the record      | night 1 1 10; night.dat 16:99999999999 10/% 16 0 970 9250 0 SpO2 | Note signal.skew             | skew of 99999999999
        an offset beyond the file          | night 1 1 10; night.dat 16+9999999999 10/% 16 0 970 9250 0 SpO2 | Failure signal.no-file        | 20 bytes
        a file elsewhere                   | night 1 1 10; ../../x.dat 16 10/% 16 0 970 9250 0 SpO2          | Failure signal.refused        | outside
        a file of the system               | night 1 1 10; /etc/passwd 16 10/% 16 0 970 9250 0 SpO2          | Failure signal.refused        | outside
        the header itself                  | night 1 1 10; night.hea 16 10/% 16 0 970 9250 0 SpO2            | Failure signal.refused        | it is a header
        the standard input                 | night 1 1 10; - 16 10/% 16 0 970 9250 0 SpO2                    | Failure signal.refused        | standard input
        a file that is not there           | night 1 1 10; other.dat 16 10/% 16 0 970 9250 0 SpO2            | Failure signal.no-file        | "other.dat"
        a signal without a file            | night 1 1 10; ~ 0 10/% 16 0 970 9250 0 SpO2                     | Note signal.no-file           | ~
        lines of a file that stand apart   | night 3 1 5; night.dat 16; ~ 0; night.dat 16                    | Failure signal.refused        | stand apart
        two formats in one file            | night 2 1 5; night.dat 16; night.dat 212                        | Failure signal.refused        | different formats
        two offsets in one file            | night 2 1 5; night.dat 16; night.dat 16+2                       | Failure signal.refused        | different byte offsets
        no gain                            | night 1 1 10; night.dat 16                                     | Doubt signal.uncalibrated     | no gain
        a gain of zero                     | night 1 1 10; night.dat 16 0/% 16 0 970 9250 0 SpO2             | Doubt signal.uncalibrated     | no gain
        a gain that is no number           | night 1 1 10; night.dat 16 abc/% 16 0 970 9250 0 SpO2           | Doubt header.field            | "abc"
        a gain that no number holds        | night 1 1 10; night.dat 16 1e300/% 16 0 970 9250 0 SpO2         | Doubt header.field            | "1e300"
        a baseline that is no number       | night 1 1 10; night.dat 16 10(x)/% 16 0 970 9250 0 SpO2         | Doubt header.field            | "x"
        a comment                          | night 1 1 10; night.dat 16 10/% 16 0 970 9250 0 SpO2; # 69 M    | Note header.comments          | 1 comment line
        a unit that no saturation has      | night 1 1 10; night.dat 16 10/mV 16 0 970 9250 0 SpO2           | Doubt channel.unit            | "mV"
        """;

    private const string Spo2 = "night.dat 16 10/% 16 0 970 9250 0 SpO2";

    public static TheoryData<string, string, string, string> Rows => [.. Table.Split('\n').Select(line => line.Split('|')).Select(c => (c[0].Trim(), c[1].Trim(), c[2].Trim(), c[3].Trim()))];

    [Theory]
    [MemberData(nameof(Rows))]
    public void A_field_is_read_or_what_is_assumed_is_listed(string what, string header, string listed, string word)
    {
        if (listed == "refused")
        {
            var error = Assert.Throws<UnreadableFileException>(() => MadeRecord.Ten(header));
            Assert.Contains(word, error.Found, StringComparison.Ordinal);
            return;
        }

        var result = MadeRecord.Ten(header);
        if (listed == "none") Assert.Empty(result.Issues);
        else Assert.True(result.Issues.Any(i => $"{i.Severity} {i.Code}" == listed && i.Found.Contains(word, StringComparison.Ordinal)), $"{what}: {string.Join('\n', result.Issues)}");
    }

    [Fact]
    public void A_plain_header_gives_nothing_to_list()
    {
        var result = MadeRecord.Ten($"night 1 1 10 13:5:0 25/4/1989; {Spo2}");
        Assert.Empty(result.Issues);
        var channel = result.Recording!.Find(ChannelKind.SpO2)!;
        Assert.Equal([97m, 96m, 95m], [.. Enumerable.Range(0, 3).Select(i => channel.Values[i] / 1_000_000m)]);
        Assert.Equal(10, channel.Times.Count);
        Assert.Equal("night", result.Recording.Name);
    }

    // time | date | start
    [Theory]
    [InlineData("", "", "unknown")]
    [InlineData("13:05:00", "", "13:05:00.000, date unknown")]
    [InlineData("13:5:0", "25/4/1989", "1989-04-25 13:05:00.000")]
    [InlineData("31:51.982", "10/10/2896", "2896-10-10 00:31:51.982")]
    [InlineData("59.25", "", "00:00:59.250, date unknown")]
    [InlineData("3661", "", "01:01:01.000, date unknown")]
    [InlineData("0:0:0", "", "00:00:00.000, date unknown")]
    [InlineData("0:0:0", "0/0/0", "unknown")]
    [InlineData("10:00:00", "0/0/0", "10:00:00.000, date unknown")]
    [InlineData("10:60:00", "1/1/2020", "unknown")]
    [InlineData("1:2:3:4", "1/1/2020", "unknown")]
    [InlineData("10:00:00", "1/13/2020", "10:00:00.000, date unknown")]
    [InlineData("10:00:00", "1/1/9999", "10:00:00.000, date unknown")]
    public void The_start_is_what_the_header_says_and_never_a_midnight_of_ours(string time, string date, string expected)
    {
        string start = BaseTime.Parse(time, date, "a.hea", new IssueLog()) switch
        {
            RecordingStart.TimeOfDay t => $"{t.Time:HH:mm:ss.fff}, date unknown",
            RecordingStart.Local l => $"{l.DateTime:yyyy-MM-dd HH:mm:ss.fff}",
            var unknown => unknown.ToString(),
        };
        Assert.Equal(expected, start);
    }

    // as written | frames | samples in milliseconds | snapped
    [Theory]
    [InlineData("360", 100, 9, 25, false)]
    [InlineData("360.", 100, 9, 25, false)]
    [InlineData("3.6e2", 100, 9, 25, false)]
    [InlineData("0.0166666666667", 1936, 1, 60_000, true)]
    [InlineData("0.9765625", 76_172, 1, 1024, false)]
    [InlineData("62.4725", 1_000_000, 24_989, 400_000, false)]
    [InlineData("33.333", 100, 1, 30, true)]
    [InlineData("33.333", 1_000_000, 33_333, 1_000_000, false)]
    [InlineData("0.000001", 5, 1, 1_000_000_000, false)]
    [InlineData("0.333333333333", 1_000_000, 1, 3000, true)]
    [InlineData("124.999", 10, 124_999, 1_000_000, false)]
    public void A_frequency_is_an_exact_fraction_and_a_rounded_decimal_the_fraction_that_is_meant(string text, long frames, long samples, long milliseconds, bool snapped)
    {
        Assert.True(HeaderParser.TryDecimal(text, out decimal frequency));
        var (rate, isSnapped) = SamplingFrequency.Of(frequency, frames);
        Assert.Equal(SampleRate.Of(samples, milliseconds), rate);
        Assert.Equal(snapped, isSnapped);
    }

    [Fact]
    public void Any_frequency_becomes_a_rate_and_no_time_of_the_record_moves_by_half_a_millisecond()
    {
        CsCheck.Check.Sample(CsCheck.Gen.Select(CsCheck.Gen.Long[1, 100_000_000_000], CsCheck.Gen.Int[0, 9], CsCheck.Gen.Int[1, 100_000]), (digits, scale, frames) =>
        {
            decimal frequency = new(unchecked((int)digits), (int)(digits >> 32), 0, false, (byte)scale);
            if (frequency is < SamplingFrequency.Least or > SamplingFrequency.Most) return;
            var (rate, _) = SamplingFrequency.Of(frequency, frames);
            double exact = (double)(frames / frequency) * 1000;
            Assert.InRange(rate.MillisecondsAt(frames) - exact, -1.001 - exact * 1e-9, 1.001 + exact * 1e-9);
        });
    }

    [Fact]
    public void Carriage_returns_tabs_blank_lines_and_comments_before_the_record_line_are_no_trouble()
    {
        var result = MadeRecord.Ten($"# first; \r;   # second; night\t1  1\t10\r; \t; night.dat\t16\t10/%\t16\t0\t970\t9250\t0\t SpO2 finger \r");
        Assert.Equal("SpO2 finger", Assert.Single(result.Recording!.Channels).Label);
        Assert.Equal("2 comment lines", result.Issue(WfdbIssueCodes.HeaderComments).Found);
    }

    [Fact]
    public void A_text_that_would_harm_a_terminal_is_shown_harmlessly()
    {
        var result = MadeRecord.Ten($"night 1 1 10; {Spo2}; # \u001b[2Jgone");
        Assert.All(result.Issues, i => Assert.DoesNotContain('\u001b', i.ToString()));
    }

    [Theory]
    [InlineData("10", 97.0)]
    [InlineData("10(-30)", 100.0)]
    [InlineData("1e1(70)", 90.0)]
    [InlineData("-10(1940)", 97.0)]
    public void Gain_and_baseline_give_the_value_in_the_unit(string gain, double first)
    {
        var result = MadeRecord.Ten($"night 1 1 10; night.dat 16 {gain}/NU 16 0 970 9250 0 s");
        Assert.Equal(first, OpenWfdb.ValueAt(result.Channel("s"), 0)!.Value, 1e-12);
    }

    [Fact]
    public void Without_a_baseline_the_converters_zero_is_it_and_without_a_unit_it_is_millivolts()
    {
        var channel = MadeRecord.Ten("night 1 1 10; night.dat 16 200 12 1024 970 9250 0 s").Channel("s");
        Assert.Equal(-0.27, OpenWfdb.ValueAt(channel, 0)!.Value, 1e-12);
        Assert.Equal("mV", channel.Unit);
    }

    [Fact]
    public void An_uncalibrated_saturation_is_no_SpO2_unless_the_user_says_so()
    {
        const string header = "night 1 1 10; night.dat 16 0/% 16 0 970 9250 0 SpO2";
        Assert.Equal(ChannelKind.Other, MadeRecord.Ten(header).Recording!.Channels[0].Kind);
        Assert.Equal(ChannelKind.SpO2, MadeRecord.Ten(header, new ReadOptions { Channel = "SpO2" }).Recording!.Channels[0].Kind);
    }

    [Fact]
    public void A_skew_moves_a_signal_earlier_and_leaves_no_numbers_at_its_end()
    {
        var channel = MadeRecord.Ten("night 1 1 10; night.dat 16:3 1/NU 16 0 970 9250 0 s").Channel("s");
        Assert.Equal([940, 930, 920, 910, 900, 890, 880, null, null, null], Enumerable.Range(0, 10).Select(i => OpenWfdb.CountAt(channel, i)));
    }

    [Fact]
    public void What_is_not_wanted_is_passed_over_and_the_rest_stays_the_same()
    {
        var result = MadeRecord.Ten("night 2 1 5; night.dat 16 10/% 16 0 970 4650 0 SpO2; night.dat 16 10/bpm 16 0 960 4600 0 PULSE", new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.PulseRate } });
        var channel = Assert.Single(result.Recording!.Channels);
        Assert.Equal(96, OpenWfdb.ValueAt(channel, 0));
        Assert.Equal(ChannelKind.PulseRate, channel.Kind);
    }

    [Fact]
    public void Too_many_signals_are_listed_and_those_that_were_asked_for_are_kept()
    {
        string lines = string.Concat(Enumerable.Range(1, 600).Select(i => $"; night.dat 80 1/NU 8 0 0 0 0 s{i}"));
        var made = new MadeRecord().With("night.hea", $"night 600 1 2{lines}\n".Replace("; ", "\n", StringComparison.Ordinal)).With("night.dat", 80, [.. Enumerable.Range(0, 1200).Select(i => i % 100)]);
        var result = made.Read("night.hea", new ReadOptions { Channel = "s600" });
        Assert.Equal(500, result.Recording!.Channels.Count);
        Assert.Equal(99, OpenWfdb.ValueAt(result.Channel("s600"), 0));
        Assert.Equal(100, result.Issue(WfdbIssueCodes.SignalTooMany).Count);
    }

    [Theory]
    [InlineData("night.hea", "night 1 1 10\nnight.dat 16\n", true)]
    [InlineData("night.txt", "night 1 1 10\nnight.dat 16\n", true)]
    [InlineData("night.csv", "time,spo2\n1,97\n", false)]
    [InlineData("night.txt", "night 1 1 10\nsome words\n", false)]
    [InlineData("night.dat", "time,spo2\n1,97\n", false)]
    [InlineData("night.dat", "\u0001\u0002\u0003", true)]
    [InlineData("night.hea", "night\0\0", false)]
    public void A_record_is_recognised_by_its_bytes(string name, string head, bool isRecord) =>
        Assert.Equal(isRecord, new WfdbRecordingReader().Recognises(System.Text.Encoding.UTF8.GetBytes(head), name));

    [Fact]
    public void A_file_beside_the_record_that_is_not_read_is_named()
    {
        var result = new MadeRecord().With("night.hea", $"night 1 1 10\n{Spo2}\n").With("night.dat", 16, 970, 960, 950, 940, 930, 920, 910, 900, 890, 880)
            .With("night.qrs", [0, 0]).With("night.alh", [0, 0]).Read("night.hea");
        Assert.Equal(["night.alh", "night.qrs"], result.Issues.Where(i => i.Code == WfdbIssueCodes.FileBeside).Select(i => i.Place));
    }
}
