using System.Text;
using Stillwatch.Alarms;
using Stillwatch.Formats.AlarmLists;
using Stillwatch.Formats.Csv;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.AlarmLists;

/// <summary>Lists of alarms as monitors and archives give them, all invented here.</summary>
public class AlarmListTests
{
    private static readonly RecordingStart Evening = new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 0, 0));
    private static readonly Duration Night = Duration.FromHours(8);

    [Theory]
    [InlineData("Start,End,Alarm,Priority,Limit\n2026-03-02 22:10:05,2026-03-02 22:10:45,SpO2 low,high,90\n")]
    [InlineData("Beginn;Ende;Meldung;Dringlichkeit;Grenzwert\n02.03.2026 22:10:05;02.03.2026 22:10:45;SpO2 niedrig;hoch;90\n")]
    [InlineData("Alarm time\tDuration (s)\tAlarm text\tAlarm priority\tAlarm limit\n2026-03-02T22:10:05\t40\tSpO2 low\tHIGH\t< 90 %\n")]
    [InlineData("Heure;Durée;Événement;Priorité;Seuil\n22:10:05;0:00:40;SpO2 basse;haute;90 %\n")]
    [InlineData("Alarmbeginn;Alarmende;Alarmtext;Prioritaet;Limit\n22:10:05;22:10:45;Entsättigung;hoch;90\n")]
    [InlineData("Date,Time,End,Parameter,Alarm,Severity,Threshold\n2026-03-02,22:10:05,22:10:45,SpO2,low,high,90\n")]
    [InlineData("time_s,length_s,text,priority,limit\n605,40,\"SpO2, low\",high,90\n")]
    [InlineData("elapsed,end,message,level,limit\n0:10:05,0:10:45,SpO2 low,high,90\n")]
    [InlineData("Time,Alarm,Priority,Limit,State\n22:10:05,SpO2 low,high,90,on\n22:10:45,SpO2 low,,,off\n")]
    [InlineData("Time,Alarm,Priority,Limit\n22:10:45,SpO2 low end,,\n22:10:05,SpO2 low,high,90\n22:01:00,bed up,,\n")]
    public void A_list_is_read_whatever_its_language_and_layout(string list)
    {
        var alarm = Read(list).Log.Signals.Single();
        Assert.Equal((605, 40, AlarmCondition.SpO2Low, AlarmPriority.High, 90_000_000), (alarm.Start.Seconds, alarm.Length!.Value.Seconds, alarm.Condition, alarm.Priority, alarm.LimitMicro));
    }

    [Theory]
    [InlineData("Time,Alarm\n22:10:05,SpO2 low\n22:10:05,SpO2 low\n22:20:00,SpO2 low\n", "605 1200", 1)]
    [InlineData("Time,Alarm\n22:10,SpO2 low\n22:10,SpO2 low\n22:20,SpO2 low\n", "600 600 1200", 0)]
    public void A_line_that_is_there_twice_is_one_alarm_unless_the_clock_tells_minutes_alone(string list, string seconds, long repeated)
    {
        var result = Read(list);
        Assert.Equal(seconds, Starts(result.Log));
        Assert.Equal(repeated, result.Issues.Where(i => i.Code == AlarmListIssueCodes.RowRepeated).Sum(i => (long)i.Count));
    }

    [Fact]
    public void A_duration_with_a_decimal_comma_and_its_unit_is_read()
    {
        var result = Read("Beginn;Dauer;Meldung\n02.03.2026 22:10:05;40,5 s;SpO2 niedrig\n02.03.2026 22:20:05;12,0 s;SpO2 niedrig\n");
        Assert.Equal([40.5, 12], result.Log.Signals.Select(s => (double)s.Length!.Value.Seconds));
        Assert.DoesNotContain(result.Issues, i => i.Code == AlarmListIssueCodes.LengthUnreadable);
    }

    [Theory]
    [InlineData("Time,Alarm\n23:59:50,SpO2 low\n00:10:00,SpO2 low\n05:00:00,SpO2 low\n", "7190 7800 25200")]
    [InlineData("Time,Alarm\n05:00:00,SpO2 low\n00:10:00,SpO2 low\n23:59:50,SpO2 low\n", "7190 7800 25200")]
    [InlineData("Time,Alarm\n01:00:00,SpO2 low\n", "10800")]
    [InlineData("Time,Alarm\n21:50:00,SpO2 low\n22:10:00,SpO2 low\n", "-600 600")]
    [InlineData("Time,Alarm\n22:10:05,SpO2 low\n22:10:00,SpO2 low\n", "600 605")]
    [InlineData("Time,Alarm\n00:00:00,SpO2 low\n00:10:00,SpO2 low\n", "7200 7800")]
    public void Clock_times_without_dates_pass_midnight_with_the_recording(string list, string seconds)
    {
        foreach (var start in new RecordingStart[] { Evening, new RecordingStart.TimeOfDay(new TimeOnly(22, 0)), new RecordingStart.Zoned(new DateTimeOffset(2026, 3, 2, 22, 0, 0, TimeSpan.FromHours(1))) })
            Assert.Equal(seconds, Starts(Read(list, start).Log));
    }

    [Theory]
    [InlineData("Time,Alarm\n2026-03-02T21:10:00Z,SpO2 low\n", "600", "")]
    [InlineData("Time,Alarm\n2026-03-02T22:10:00+01:00,SpO2 low\n", "600", "")]
    [InlineData("Time,Alarm\n2026-03-02T22:10:00,SpO2 low\n", "600", AlarmListIssueCodes.ClockZone)]
    [InlineData("epoch_s,Alarm\n1772485800,SpO2 low\n", "600", "")]
    public void A_zone_is_used_where_both_have_one_and_doubted_where_one_has(string list, string seconds, string code)
    {
        var result = Read(list, new RecordingStart.Zoned(new DateTimeOffset(2026, 3, 2, 22, 0, 0, TimeSpan.FromHours(1))));
        Assert.Equal(seconds, Starts(result.Log));
        Assert.Equal(code, string.Join(' ', result.Issues.Where(i => i.Code == AlarmListIssueCodes.ClockZone).Select(i => i.Code)));
    }

    [Theory]
    // The recording begins on 2 March at 22:00 and lasts 8 hours, or on 3 February.
    [InlineData("03/02/2026 22:10:00", "2026-03-02", "600", IssueSeverity.Note)]
    [InlineData("03/02/2026 22:10:00", "2026-02-03", "600", IssueSeverity.Note)]
    [InlineData("02/03/2026 22:10:00", "2026-03-02", "600", IssueSeverity.Note)]
    [InlineData("03/03/2026 01:00:00", "2026-03-02", "10800", IssueSeverity.Doubt)] // both orders fit
    [InlineData("04/05/2026 22:10:00", "2026-03-02", "5443800", IssueSeverity.Doubt)] // neither: day first, 4 May
    public void A_dated_recording_tells_day_from_month_where_the_list_cannot(string time, string night, string seconds, IssueSeverity severity)
    {
        var start = DateTime.Parse(night, System.Globalization.CultureInfo.InvariantCulture).AddHours(22);
        var (date, clock) = (time.Split(' ')[0], time.Split(' ')[1]);
        foreach (string list in new[] { $"Time,Alarm\n{time},SpO2 low\n", $"Date,Time,Alarm\n{date},{clock},SpO2 low\n" })
        {
            foreach (var known in new RecordingStart[] { new RecordingStart.Local(start), new RecordingStart.Zoned(new DateTimeOffset(start, TimeSpan.FromHours(1))) })
            {
                var result = Read(list, known);
                Assert.Equal(seconds, Starts(result.Log));
                Assert.Equal(severity, result.Issues.Single(i => i.Code == CsvIssueCodes.TimeDateOrder).Severity);
            }
        }
    }

    [Fact]
    public void An_order_asked_for_is_not_overruled_by_the_recording()
    {
        var options = CsvReadOptions.Default with { DateOrder = DateOrder.DayFirst };
        var list = new MemoryStream(Encoding.UTF8.GetBytes("Time,Alarm\n03/02/2026 22:10:00,SpO2 low\n"));
        var result = AlarmListReader.Read(list, "alarms.csv", Evening, Night, options);
        Assert.Equal("-2332200", Starts(result.Log)); // 3 February: 27 days before, and 10 min
    }

    [Fact]
    public void A_list_by_the_clock_cannot_be_joined_to_a_recording_without_one()
    {
        var error = Assert.Throws<UnreadableFileException>(() => Read("Time,Alarm\n22:10:05,SpO2 low\n", new RecordingStart.Unknown()));
        Assert.Equal("times of a clock", error.Found);
        Assert.Contains("the recording has no clock", error.Expected, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Start;Ende;Meldung\n22:10:20;;bed up\n22:30:09;;SpO2 < 90\n22:45:00;;Puls\n")]
    [InlineData("Start,Text\n22:10:20,SpO2 low\n22:30:09,SpO2 limit low\n22:45:00,SpO2 < 90\n")]
    [InlineData("Zeit;Meldung\n22:10:20;SpO2 88 % < 90 %\n22:30:09;SpO2 (%)\n22:45:00;PR\n")]
    public void The_text_of_an_alarm_is_never_taken_for_a_header(string list)
    {
        var result = Read(list);
        Assert.Equal("620 1809 2700", Starts(result.Log));
        Assert.Equal(0, Count(result, CsvIssueCodes.FilePreamble));
    }

    [Fact]
    public void Elapsed_seconds_need_no_clock() =>
        Assert.Equal("605 700.5", Starts(Read("t (s),Alarm\n605,SpO2 low\n700.5,PR > 120\n", new RecordingStart.Unknown()).Log));

    [Fact]
    public void Texts_that_are_not_understood_are_counted_and_listed()
    {
        var result = Read("Time,Alarm\n22:01:00,bed up\n22:02:00,Bed up\n22:03:00,SpO2 low\n22:04:00,HR high\n");
        Assert.Single(result.Log.Signals);
        Assert.Equal([("bed up", 2), ("HR high", 1)], result.Log.NotUnderstood.Select(t => (t.Text, t.Count)));
        Assert.Equal(3, Count(result, AlarmListIssueCodes.TextNotUnderstood));
    }

    [Fact]
    public void What_cannot_be_is_listed_and_not_repaired()
    {
        var result = Read("Start,End,Alarm,Priority,Limit,Bed\n22:10:05,later,SpO2 low,1,about 90?,7\nsoon,,SpO2 low,,,7\n22:11:00,,,high,90,7\n22:12:00,,SpO2 low end,,,7\n22:13:00,,SpO2 low end,,,7\n2026,1,2,3,4,5,6,7\n");
        foreach (string code in new[] { AlarmListIssueCodes.LengthUnreadable, AlarmListIssueCodes.PriorityUnreadable, AlarmListIssueCodes.LimitUnreadable, CsvIssueCodes.TimeUnreadable, AlarmListIssueCodes.RowNoText, AlarmListIssueCodes.RowEnds, AlarmListIssueCodes.EndWithoutStart, CsvIssueCodes.RowTooManyCells, AlarmListIssueCodes.ColumnNotUsed })
            Assert.True(Count(result, code) == 1, $"{code}: found {Count(result, code)}, expected 1");
        var alarm = result.Log.Entries.Single();
        Assert.Equal((115.0, null, null), (alarm.Length!.Value.Seconds, alarm.Priority, alarm.LimitMicro));
    }

    [Fact]
    public void Rows_out_of_order_are_put_in_order_and_said()
    {
        var result = Read("Start,Alarm\n22:10:05,SpO2 low\n22:20:00,SpO2 low\n22:15:00,SpO2 low\n22:30:00,SpO2 low\n");
        Assert.Equal("605 900 1200 1800", Starts(result.Log));
        Assert.Equal(1, Count(result, CsvIssueCodes.TimeOutOfOrder));
    }

    [Fact]
    public void Alarms_outside_the_recording_are_kept_and_said()
    {
        var result = Read("Time,Alarm\n2026-03-01 22:10:05,SpO2 low\n2026-03-02 22:10:05,SpO2 low\n");
        Assert.Equal("-85795 605", Starts(result.Log));
        Assert.Equal(1, Count(result, AlarmListIssueCodes.OutsideRecording));
    }

    [Theory]
    [InlineData("Time,Alarm\n")]
    [InlineData("Time,Alarm\nsoon,SpO2 low\n22:99:00,SpO2 low\nsoon,22:00:61\n")]
    public void A_list_without_a_row_is_an_empty_log_and_says_so(string list)
    {
        try
        {
            var result = Read(list);
            Assert.Empty(result.Log.Entries);
            Assert.Equal(1, Count(result, AlarmListIssueCodes.NoEntries));
        }
        catch (UnreadableFileException e)
        {
            Assert.StartsWith("no column of times", e.Found, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("SpO2,Pulse\n97,70\n96,71\n", "no column of times")]
    [InlineData("Time,SpO2,Pulse\n22:00:00,97,70\n22:00:01,96,71\n", "no column of texts")]
    [InlineData("", "an empty file")]
    public void What_is_no_list_of_alarms_is_refused_with_the_likely_cause(string list, string found)
    {
        var error = Assert.Throws<UnreadableFileException>(() => Read(list));
        Assert.StartsWith(found, error.Found, StringComparison.Ordinal);
        Assert.NotEmpty(error.LikelyCause);
    }

    [Fact]
    public void Notes_of_a_recording_are_read_by_the_same_words_and_our_own_are_left_aside()
    {
        var recording = new Recording("night.edf", new RecordingStart.Unknown(), [], SourceAveraging.Unknown,
        [
            Note(60, 0, "SpO2 low"), Note(80, 0, "SpO2 low end"), Note(200, 30, "SpO2 < 90 %"), Note(300, 0, "lights off"),
            new Annotation(SampleTime.FromSeconds(400), new Duration(5000), "SpO2 low", AnnotationOrigin.ReplayedSignal),
        ]);
        var log = AnnotationAlarms.Of(recording)!;
        Assert.Equal([(60.0, 20.0), (200.0, 30.0)], log.Signals.Select(s => (s.Start.Seconds, s.Length!.Value.Seconds)));
        Assert.Equal("lights off", log.NotUnderstood.Single().Text);
        Assert.Null(AnnotationAlarms.Of(recording with { Annotations = [Note(1, 0, "lights off"), recording.Annotations[^1]] }));
    }

    private static Annotation Note(decimal seconds, decimal length, string text) => new(SampleTime.FromSeconds(seconds), Duration.FromSeconds(length), text);

    private static AlarmListResult Read(string list, RecordingStart? start = null) =>
        AlarmListReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(list)), "alarms.csv", start ?? Evening, Night);

    private static string Starts(AlarmLog log) => string.Join(' ', log.Entries.Select(e => e.Start.Seconds.ToString("0.###")));

    private static long Count(AlarmListResult result, string code) => result.Issues.Where(i => i.Code == code).Sum(i => i.Count);
}
