using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.Formats;
using Stillwatch.Testing;

namespace Stillwatch.App.Tests;

/// <summary>From files of light to what <c>derive</c> says of them.</summary>
public sealed class DeriveTests : IDisposable
{
    private readonly Folder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Derive_has_its_keys()
    {
        var json = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared()), "--json").Json();
        Keys(json, "file sha256 patient category categoryAssumed oxygen sourceAveragingSeconds invented channels candidates noSaturationBecause fallsWithBlood zeroIsDark rateHz resampling curve averagingSeconds detector software definitions startSeconds secondsTotal secondsValid secondsByState secondsBeyondCurve beats beatQuality perSecond respiratoryRate output cautions issues");
        Keys(json.GetProperty("perSecond"), "pulseRate spo2 ratio perfusion quality state");
        Keys(json.GetProperty("respiratoryRate"), "windowSeconds values fromIntensity fromAmplitude fromFrequency");
        Keys(json.GetProperty("channels")[0], "label usedAs");
        Keys(json.GetProperty("candidates")[0], "label quality chosen because");
        Keys(json.GetProperty("curve"), "name source range because");
        Assert.Equal(8, json.GetProperty("averagingSeconds").GetDouble());
        Assert.Equal(32, json.GetProperty("respiratoryRate").GetProperty("windowSeconds").GetDouble());
        Assert.False(json.GetProperty("invented").GetBoolean());
    }

    [Fact]
    public void Every_second_has_a_place_in_every_list_and_counts_add_up()
    {
        var json = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared(90, withSensorOff: true)), "--json").Json();
        int total = json.GetProperty("secondsTotal").GetInt32();
        Assert.Equal(90, total);
        foreach (var list in json.GetProperty("perSecond").EnumerateObject()) Assert.Equal(total, list.Value.GetArrayLength());
        Assert.Equal(total, json.GetProperty("secondsByState").EnumerateObject().Sum(s => s.Value.GetInt32()));
        Assert.Equal(2, json.GetProperty("respiratoryRate").GetProperty("values").GetArrayLength());
        Assert.Equal(json.GetProperty("beats").GetArrayLength(), json.GetProperty("beatQuality").GetArrayLength());
    }

    [Fact]
    public void A_refused_number_is_null_and_never_zero()
    {
        var perSecond = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared(90, withSensorOff: true)), "--json").Json().GetProperty("perSecond");
        string[] states = [.. perSecond.GetProperty("state").EnumerateArray().Select(s => s.GetString()!)];
        Assert.Contains("valid", states);
        Assert.Contains(states, s => s != "valid");
        for (int i = 0; i < states.Length; i++)
        {
            foreach (string name in new[] { "pulseRate", "spo2", "perfusion" })
                Assert.Equal(states[i] == "valid" ? JsonValueKind.Number : JsonValueKind.Null, perSecond.GetProperty(name)[i].ValueKind);
        }
    }

    [Fact]
    public void A_clean_pulse_gives_its_own_rate_ratio_and_saturation()
    {
        var json = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared()), "--json").Json();
        var perSecond = json.GetProperty("perSecond");
        // Made with 0.012 and 0.02 of pulse in the logarithm of red and infrared: ratio 0.6, and 110 − 25 · 0.6 = 95 %.
        Assert.InRange(perSecond.GetProperty("pulseRate")[40].GetDouble(), 74.5, 75.5);
        Assert.InRange(perSecond.GetProperty("ratio")[40].GetDouble(), 0.59, 0.61);
        Assert.InRange(perSecond.GetProperty("spo2")[40].GetDouble(), 94.7, 95.3);
        Assert.Equal("linear", json.GetProperty("curve").GetProperty("name").GetString());
        Assert.Equal("Infrared", json.GetProperty("channels")[0].GetProperty("label").GetString());
        Assert.Equal("redLight", json.GetProperty("channels")[1].GetProperty("usedAs").GetString());
    }

    [Fact]
    public void A_table_of_the_users_own_is_the_curve_and_stands_with_its_hash()
    {
        string light = folder.Write("light.csv", InventedLight.RedAndInfrared()), table = folder.Write("mine.csv", "ratio,spo2\n0.4,99\n0.6,91\n1.2,70\n");
        var json = Ran.With("derive", light, "--curve", table, "--json").Json();
        Assert.Equal("table", json.GetProperty("curve").GetProperty("name").GetString());
        Assert.Equal("mine.csv", json.GetProperty("curve").GetProperty("file").GetString());
        Assert.Equal(64, json.GetProperty("curve").GetProperty("sha256").GetString()!.Length);
        Assert.InRange(json.GetProperty("perSecond").GetProperty("spo2")[40].GetDouble(), 90.5, 91.5);
    }

    [Theory]
    [InlineData("ratio,spo2\n0.4,99\n0.6,oops\n", "line 3")]
    [InlineData("R,S\n0.4,99\n", "line 1")]
    [InlineData("ratio,spo2\n0.6,99\n0.5,97\n", "line 3")]
    [InlineData("", "line 1")]
    public void A_damaged_table_ends_with_code_3_and_names_its_line(string text, string where)
    {
        var ran = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared(20)), "--curve", folder.Write("mine.csv", text));
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains(where == "line 1" && text.Length == 0 ? "mine.csv" : where, ran.Error, StringComparison.Ordinal);
        Assert.Contains("ratio,spo2", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void Seconds_outside_the_range_of_the_curve_are_counted_and_said_beside_the_answer() // the hazard log names this test
    {
        // Rehearsed blood at 96 % has a ratio below 0.4 by either extinction table, where the textbook line is at its end.
        string rehearsed = folder["quiet.json"], page = folder["page.html"];
        Ran.With("rehearse", "quiet-night", "--minutes", "2", "--light", "--to", rehearsed);
        var json = Ran.With("derive", rehearsed, "--curve", "linear", "--json").Json();
        Assert.InRange(json.GetProperty("secondsBeyondCurve").GetInt32(), 60, json.GetProperty("secondsValid").GetInt32());
        Assert.Contains("IN DOUBT: In", Ran.With("derive", rehearsed, "--curve", "linear", "--report", page).Words, StringComparison.Ordinal);
        Assert.Contains("do not read these numbers as saturations", File.ReadAllText(page), StringComparison.Ordinal);
        Assert.Equal(0, Ran.With("derive", rehearsed, "--curve", "beer-lambert-a-660-940", "--json").Json().GetProperty("secondsBeyondCurve").GetInt32());
        // The same line is inside its range where the ratio is 0.6.
        string inside = folder.Write("light.csv", InventedLight.RedAndInfrared());
        Assert.Equal(0, Ran.With("derive", inside, "--json").Json().GetProperty("secondsBeyondCurve").GetInt32());
        Assert.DoesNotContain("IN DOUBT", Ran.With("derive", inside).Out, StringComparison.Ordinal);
    }

    [Theory] // the hazard log names this test
    [InlineData("csv")]
    [InlineData("edf")]
    [InlineData("json")]
    [InlineData("parquet")]
    public void Rehearsed_light_is_read_by_the_curve_of_its_own_lamps_unless_another_is_asked_for_and_that_is_said(string ending)
    {
        string rehearsed = folder["child." + ending], page = folder["page.html"], derived = folder["derived." + ending], truth = folder["truth.json"];
        Ran.With("rehearse", "sedated-child", "--minutes", "3", "--light", "--to", rehearsed, "--truth", truth);
        var json = Ran.With("derive", rehearsed, "--to", derived, "--report", page, "--json").Json();
        Assert.Equal("beer-lambert-a-660-940", json.GetProperty("curve").GetProperty("name").GetString());
        Assert.StartsWith("assumed: the light is a rehearsal's", json.GetProperty("curve").GetProperty("because").GetString(), StringComparison.Ordinal);
        Assert.Contains("assumed: the light is a rehearsal's", File.ReadAllText(derived + ".manifest.json").Replace("\\u0027", "'", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("assumed: the light is a rehearsal", File.ReadAllText(page), StringComparison.Ordinal);
        Assert.Contains("assumed: the light is a rehearsal's", Ran.With("derive", rehearsed).Words, StringComparison.Ordinal);
        double[] told = [.. json.GetProperty("perSecond").GetProperty("spo2").EnumerateArray().Skip(20).Take(100).Select(s => s.GetDouble())];
        Assert.InRange(told.Average(), TrueMean(truth, 20, 100) - 0.5, TrueMean(truth, 20, 100) + 0.5);
        Assert.Equal("linear", Ran.With("derive", rehearsed, "--curve", "linear", "--json").Json().GetProperty("curve").GetProperty("name").GetString());
    }

    [Fact]
    public void Where_nobody_said_which_curve_the_page_says_how_far_another_lies_from_it()
    {
        string light = folder.Write("light.csv", InventedLight.RedAndInfrared()), page = folder["page.html"];
        // At R 0.6: 110 − 25 · 0.6 = 95.0; by table B (3200 − 0.6 · 800) / (2880 + 0.6 · 400) = 87.2 %.
        string words = Ran.With("derive", light, "--report", page).Words;
        Assert.Contains("ASSUMED: Nobody said which curve this light goes with. At its median ratio of 0.60 the curve \"linear\" reads 95.0 %, the theory of Beer and Lambert for lamps of 660 and 940 nm 87.", words, StringComparison.Ordinal);
        Assert.Contains("Nobody said which curve this light goes with", File.ReadAllText(page), StringComparison.Ordinal);
        Assert.DoesNotContain("ASSUMED", Ran.With("derive", light, "--curve", "linear").Words, StringComparison.Ordinal);
    }

    [Fact]
    public void One_pleth_gives_a_pulse_rate_and_no_saturation_and_the_page_says_why()
    {
        string pleth = folder.Write("pleth.csv", InventedLight.Pleth());
        var json = Ran.With("derive", pleth, "--map", "time=none", "--rate", "125", "--json").Json();
        Assert.Equal(JsonValueKind.Null, json.GetProperty("curve").ValueKind);
        Assert.All(json.GetProperty("perSecond").GetProperty("spo2").EnumerateArray(), s => Assert.Equal(JsonValueKind.Null, s.ValueKind));
        Assert.InRange(json.GetProperty("perSecond").GetProperty("pulseRate")[40].GetDouble(), 74.5, 75.5);
        Assert.Contains("no SpO2, for there is one light only", Ran.With("derive", pleth, "--map", "time=none", "--rate", "125").Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Red_light_alone_gives_no_saturation()
    {
        var ran = Ran.With("derive", folder.Write("red.csv", InventedLight.RedAndInfrared(withInfrared: false)), "--json");
        Assert.All(ran.Json().GetProperty("perSecond").GetProperty("spo2").EnumerateArray(), s => Assert.Equal(JsonValueKind.Null, s.ValueKind));
    }

    [Fact]
    public void The_page_says_what_was_used_what_was_refused_and_what_the_numbers_are_not()
    {
        var page = Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared(90, withSensorOff: true)));
        Assert.Equal(ExitCode.Done, page.ExitCode);
        foreach (string words in new[]
        {
            "What numbers does this light give, and which of them can be trusted?", "Why seconds carry no numbers", "What was used, and why", "What this is not",
            "not the monitor's reading, and not for diagnosis", "textbook approximation 110 − 25·R", "\"Red\" as red light", "Averaged over 8 s",
        })
            Assert.Contains(words, page.Words, StringComparison.Ordinal);
        Assert.All(page.Out.Split('\n'), line => Assert.True(line.Length <= 100, line));
    }

    [Theory]
    [InlineData("Time,SpO2,Pulse\n0,97,70\n1,97,70\n2,96,71\n", "no waveform among the channels")]
    [InlineData("Time,Pleth\n0,0.1\n0.1,0.2\n0.2,0.3\n0.3,0.2\n0.4,0.1\n", "10")]
    public void A_file_without_light_ends_with_code_4_and_says_what_was_expected(string text, string found)
    {
        var ran = Ran.With("derive", folder.Write("numbers.csv", text));
        Assert.Equal(ExitCode.NothingComputable, ran.ExitCode);
        Assert.Contains("25 to 500 samples a second", ran.ErrorWords, StringComparison.Ordinal);
        Assert.Contains(found, ran.ErrorWords, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--averaging", "1")]
    [InlineData("--averaging", "8.5")]
    [InlineData("--detector", "best")]
    [InlineData("--curve", "of-no-device")]
    [InlineData("--channel", "SpO2")]
    public void An_option_out_of_bounds_ends_with_code_2(string option, string value) =>
        Assert.Equal(ExitCode.Usage, Ran.With("derive", folder.Write("light.csv", InventedLight.RedAndInfrared(20)), option, value).ExitCode);

    [Fact]
    public void Numbers_of_the_monitor_in_the_same_file_are_not_taken_for_light()
    {
        string[] lines = InventedLight.RedAndInfrared().TrimEnd('\n').Split('\n');
        folder.Write("both.csv", lines[0] + ",SpO2,Pulse\n" + string.Join('\n', lines.Skip(1).Select(l => l + ",88,150")) + "\n");
        folder.Write("light.csv", InventedLight.RedAndInfrared());
        var both = Ran.With("derive", folder["both.csv"], "--json").Json();
        var light = Ran.With("derive", folder["light.csv"], "--json").Json();
        Assert.Equal(light.GetProperty("perSecond").ToString(), both.GetProperty("perSecond").ToString());
        Assert.DoesNotContain(both.GetProperty("issues").EnumerateArray(), i => i.GetProperty("code").GetString() == "channel.no-spo2");
    }

    [Fact]
    public void Damaged_light_is_refused_clearly_or_read_with_its_issues()
    {
        string whole = InventedLight.RedAndInfrared(20);
        var random = new Random(41); // seed fixed
        for (int i = 0; i < 30; i++)
        {
            char[] text = whole.ToCharArray();
            for (int k = 0; k < 1 + random.Next(40); k++) text[random.Next(text.Length)] = "9,\n-.eX\0"[random.Next(8)];
            int end = random.Next(2) == 0 ? text.Length : random.Next(text.Length);
            var ran = Ran.With("derive", folder.Write("damaged.csv", new string(text, 0, end)), "--json");
            Assert.True(ran.ExitCode is ExitCode.Done or ExitCode.Unreadable or ExitCode.NothingComputable, $"case {i}: {ran.Error}");
            if (ran.ExitCode == ExitCode.Done) Assert.DoesNotContain("NaN", ran.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_open_pleth_of_an_intensive_care_patient_gives_a_pulse_near_that_of_its_electrocardiogram()
    {
        // BIDMC PPG and Respiration data set, PhysioNet, record 01; 730 ECG beats in 8 min are 91.5 a minute (own count, see the data's README).
        string file = OpenRecordings.Path("icu-plethysmogram/bidmc_01_Signals.csv");
        var json = Ran.With("derive", file, "--map", "time=none", "--rate", "125", "--json").Json();
        Assert.Equal("PLETH", json.GetProperty("channels")[0].GetProperty("label").GetString());
        double[] rates = [.. json.GetProperty("perSecond").GetProperty("pulseRate").EnumerateArray().Where(v => v.ValueKind == JsonValueKind.Number).Select(v => v.GetDouble())];
        Assert.True(rates.Length > 240, $"found a pulse rate in {rates.Length} of 481 seconds");
        Assert.InRange(rates.Order().ElementAt(rates.Length / 2), 89, 94);
    }

    [Theory]
    [InlineData("camera-ppg-with-rr/subject_01/PPG.csv", "")]
    [InlineData("controlled-desaturation/camera/100001-left.csv", "30")]
    public void An_open_camera_recording_of_three_colours_has_one_of_them_chosen_with_its_reason(string name, string rate)
    {
        string file = OpenRecordings.Path(name);
        var json = (rate.Length == 0 ? Ran.With("derive", file, "--json") : Ran.With("derive", file, "--rate", rate, "--json")).Json();
        Assert.Equal(3, json.GetProperty("candidates").GetArrayLength());
        Assert.Single(json.GetProperty("candidates").EnumerateArray(), c => c.GetProperty("chosen").GetBoolean());
        Assert.All(json.GetProperty("candidates").EnumerateArray(), c => Assert.NotEqual("", c.GetProperty("because").GetString()));
        // Three colours of a camera are no red and infrared light.
        Assert.Equal(JsonValueKind.Null, json.GetProperty("curve").ValueKind);
        Assert.Equal(rate.Length == 0, json.GetProperty("resampling").ValueKind == JsonValueKind.Object);
    }

    private static double TrueMean(string truth, int from, int count)
    {
        var read = RecordingReaders.Read(new RecordingSource(Path.GetFileName(truth), new DiskFolder(Path.GetDirectoryName(truth)!)), new ReadOptions()).Recording!;
        var channel = read.Find(Stillwatch.Signals.ChannelKind.SpO2)!;
        return Enumerable.Range(from, count).Average(i => channel.Values[i] / 1e6);
    }

    private static void Keys(JsonElement element, string expected) =>
        Assert.Equal(expected.Split(' ').Order(StringComparer.Ordinal), element.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal));
}
