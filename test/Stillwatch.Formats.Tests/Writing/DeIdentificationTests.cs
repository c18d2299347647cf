using CsCheck;
using Stillwatch.Formats.Exports;
using Stillwatch.Formats.Json;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Writing;

/// <summary>What de-identification takes away, what it keeps, and that the same patient stays the same patient.</summary>
public class DeIdentificationTests
{
    private static readonly LinkageSecret Secret = new([.. Enumerable.Range(0, 32).Select(i => (byte)i)]);

    // RFC 4231, "Identifiers and Test Vectors for HMAC-SHA-224, HMAC-SHA-256 …", section 4, test cases 1, 2, 3, 4, 6 and 7.
    [Theory]
    [InlineData("0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b", "4869205468657265", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7")]
    [InlineData("4a656665", "7768617420646f2079612077616e7420666f72206e6f7468696e673f", "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843")]
    [InlineData("aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", "dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd", "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe")]
    [InlineData("0102030405060708090a0b0c0d0e0f10111213141516171819", "cdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcd", "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b")]
    public void The_code_behind_shift_and_pseudonym_is_HMAC_SHA256_as_published(string key, string message, string code) =>
        Assert.Equal(code, Convert.ToHexStringLower(LinkageSecret.Hmac(Convert.FromHexString(key), Convert.FromHexString(message))));

    [Fact]
    public void The_shift_is_whole_days_back_the_same_for_a_patient_and_never_none()
    {
        var shifts = Enumerable.Range(0, 5000).Select(i => Secret.ShiftDays($"P-{i}")).ToList();
        Assert.All(shifts, s => Assert.InRange(s, -365, -1));
        Assert.Equal(365, shifts.Distinct().Count());
        Assert.Equal(shifts, Enumerable.Range(0, 5000).Select(i => Secret.ShiftDays($"P-{i}")));
        Assert.NotEqual(shifts, Enumerable.Range(0, 5000).Select(i => new LinkageSecret(new byte[32]).ShiftDays($"P-{i}")));
    }

    [Fact]
    public void Pseudonyms_can_be_read_aloud_differ_between_patients_and_between_secrets()
    {
        var names = Enumerable.Range(0, 5000).Select(i => Secret.PatientPseudonym($"P-{i}")).ToList();
        Assert.All(names, n => Assert.Matches("^P-[0-9A-HJKMNP-TV-Z]{5}-[0-9A-HJKMNP-TV-Z]{5}$", n));
        Assert.Equal(names.Count, names.Distinct().Count());
        Assert.NotEqual(names[0], new LinkageSecret(new byte[32]).PatientPseudonym("P-0"));
        Assert.NotEqual(Secret.PatientPseudonym("A")[2..], Secret.ReviewerPseudonym("A")[2..]);
    }

    [Fact]
    public void Two_nights_of_a_patient_stay_as_many_days_apart_and_keep_their_time_of_day()
    {
        var first = Start(new RecordingStart.Local(new DateTime(2026, 2, 27, 22, 13, 14)));
        var second = Start(new RecordingStart.Local(new DateTime(2026, 3, 2, 21, 0, 0)));
        Assert.Equal(new TimeSpan(2, 22, 46, 46), ((RecordingStart.Local)second).DateTime - ((RecordingStart.Local)first).DateTime);
        Assert.Equal(new TimeSpan(22, 13, 14), ((RecordingStart.Local)first).DateTime.TimeOfDay);
        Assert.InRange(((RecordingStart.Local)first).DateTime, new DateTime(2025, 2, 27), new DateTime(2026, 2, 26, 23, 0, 0));
    }

    [Fact]
    public void The_offset_from_UTC_is_left_out_and_what_has_no_date_stays_as_it_is()
    {
        var zoned = Start(new RecordingStart.Zoned(new DateTimeOffset(2026, 7, 1, 23, 30, 0, TimeSpan.FromHours(2))));
        Assert.Equal(new TimeSpan(23, 30, 0), Assert.IsType<RecordingStart.Local>(zoned).DateTime.TimeOfDay);
        var ofDay = new RecordingStart.TimeOfDay(new TimeOnly(1, 2, 3));
        Assert.Equal(ofDay, Start(ofDay));
        Assert.Equal(new RecordingStart.Unknown(), Start(new RecordingStart.Unknown()));
        Assert.Equal(new RecordingStart.TimeOfDay(new TimeOnly(5, 0)), Start(new RecordingStart.Local(new DateTime(1, 1, 1, 5, 0, 0))));
    }

    [Fact]
    public void No_text_of_the_source_is_left_and_every_number_is()
    {
        AnyRecording.All.Sample(recording =>
        {
            var done = DeIdentified.Of(recording, "Jane", Secret);
            string written = System.Text.Encoding.UTF8.GetString(RoundTrip.Bytes(new JsonRecordingWriter(), Marked(recording, "Jane Doe")));
            string shared = System.Text.Encoding.UTF8.GetString(RoundTrip.Bytes(new JsonRecordingWriter(), DeIdentified.Of(Marked(recording, "Jane Doe"), "Jane Doe", Secret).Recording));
            Assert.Equal(recording.Channels.Count + recording.Annotations.Count > 0, written.Contains("Jane Doe", StringComparison.Ordinal));
            Assert.DoesNotContain("Jane", shared, StringComparison.Ordinal);
            Assert.Equal(Numbers(recording), Numbers(done.Recording));
        }, iter: 300);
    }

    [Fact]
    public void Channels_are_named_by_what_they_are_or_by_their_number()
    {
        var done = DeIdentified.Of(ContractRecordings.Night, "Jane", Secret);
        Assert.Equal(["SpO2", "Pulse rate", "Pleth", "channel 4"], done.Recording.Channels.Select(c => c.Label));
        Assert.Contains(done.Done, d => d.StartsWith("the texts of 2 annotations left out", StringComparison.Ordinal));
        Assert.Contains(DeIdentified.Remains, r => r.Contains("not anonymity", StringComparison.Ordinal));
    }

    private static RecordingStart Start(RecordingStart start) => DeIdentified.Of(new Recording("n", start, [], SourceAveraging.Unknown, []), "Jane", Secret).Recording.Start;

    private static Recording Marked(Recording recording, string text) => new(
        text, recording.Start,
        [.. recording.Channels.Select(c => c.Counts is { } counts ? new Channel(text, c.Kind, text, c.Times, counts) : new Channel(text, c.Kind, text, c.Times, c.Values))],
        recording.SourceAveraging, [.. recording.Annotations.Select(a => a with { Text = text })]);

    private static string Numbers(Recording recording) => string.Concat(Marked(recording, "").Channels.Select(Contract.Printed.Whole))
        + string.Join('\n', recording.Annotations.Select(a => $"{a.Time} {a.Length} {a.Origin}"));
}
