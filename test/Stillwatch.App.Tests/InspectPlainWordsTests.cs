using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>What a person reads where a file is odd: the same thing is said a few times only, a cause is one, and nobody's age stands on a page.</summary>
public sealed class InspectPlainWordsTests
{
    [Fact]
    public void The_same_remark_on_a_hundred_signals_is_said_three_times_and_then_counted()
    {
        // 138 signals of this file hold counts beyond the range in its header.
        var page = Ran.With("inspect", OpenRecordings.Path("edf/EDF.jl/test.edf"));
        Assert.Equal(4, page.Words.Split("[signal.beyond-range]").Length - 1);
        Assert.Contains("the same kind at 135 other places", page.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("more: see --json", page.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_header_that_only_lays_out_signals_is_not_said_to_need_a_map()
    {
        var ran = Ran.With("inspect", OpenRecordings.Path("wfdb/records/s00001/3975656_layout.hea"));
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("only lays out the signals of a record of segments", ran.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("--map", ran.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_signal_file_is_the_cause_and_its_place_names_the_header_once()
    {
        using var folder = new Folder();
        string path = folder.Write("night.hea", "night 1 1 60\nnight.dat 16 10/% 12 0 950 0 0 SpO2\n");
        var ran = Ran.With("inspect", path);
        Assert.Contains("where: " + path + ", signal 1", ran.ErrorWords, StringComparison.Ordinal);
        Assert.Contains("it was not copied along", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void Age_sex_and_diagnoses_in_a_WFDB_header_are_neither_on_the_page_nor_in_JSON()
    {
        string path = OpenRecordings.Path("wfdb/records/s00001/s00001-2896-10-10-00-31n.hea");
        foreach (var ran in new[] { Ran.With("inspect", path), Ran.With("inspect", path, "--json") })
        {
            Assert.Contains("1 comment line", ran.Words, StringComparison.Ordinal);
            Assert.DoesNotContain("sex>", ran.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_WFDB_record_of_waveforms_is_said_to_have_no_SpO2_not_to_be_unreadable()
    {
        var ran = Ran.With("tune", OpenRecordings.Path("wfdb/records/s00001/s00001-2896-10-10-00-31.hea"));
        Assert.Equal(ExitCode.NothingComputable, ran.ExitCode);
        Assert.Contains("no column that is SpO2", ran.ErrorWords, StringComparison.Ordinal);
        Assert.DoesNotContain("cannot read", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_of_annotations_alone_is_said_to_be_one()
    {
        var page = Ran.With("inspect", OpenRecordings.Path("edf/edfio/SC4001EC-Hypnogram.edf"));
        Assert.Contains("notes alone", page.Words, StringComparison.Ordinal);
        Assert.Contains("found no signals, expected a column of SpO2", page.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Sat", "%", true)]
    [InlineData("SAT", "%", true)]
    [InlineData("Sat", "mV", false)]
    [InlineData("SaO2", "%", true)]
    [InlineData("OSAT", "%", true)]
    [InlineData("SpO2 BB", "%", true)]
    [InlineData("SpO2-Wave", "%", false)] // not the number but the curve
    [InlineData("SpO2Stat", "%", false)]
    [InlineData("SpO2_Q", "%", false)] // its quality
    public void A_signal_is_taken_as_SpO2_by_label_and_unit(string label, string unit, bool isSpO2)
    {
        using var folder = new Folder();
        folder.Write("night.hea", $"night 1 1 60\nnight.dat 16 10/{unit} 12 0 0 0 0 {label}\n");
        File.WriteAllBytes(folder["night.dat"], [.. Enumerable.Repeat<byte[]>([0xB6, 0x03], 60).SelectMany(b => b)]);
        string kind = Ran.With("inspect", folder["night.hea"], "--json").Json().GetProperty("recordings")[0].GetProperty("channels")[0].GetProperty("kind").GetString()!;
        Assert.Equal(isSpO2 ? "spo2" : "other", kind);
    }

    [Fact]
    public void A_device_that_never_ends_is_read_as_empty()
    {
        if (OperatingSystem.IsWindows()) return; // it has none in its folders
        using var folder = new Folder();
        File.CreateSymbolicLink(folder["night.edf"], "/dev/zero");
        var ran = Ran.With("inspect", folder["night.edf"]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("found 0 bytes", ran.ErrorWords, StringComparison.Ordinal);

        folder.Write("other.hea", "other 1 1 60\nnight.edf 16 10/% 12 0 950 0 0 SpO2\n");
        Assert.Equal(ExitCode.Unreadable, Ran.With("inspect", folder["other.hea"]).ExitCode);
    }
}
