using System.Diagnostics;
using System.Text.RegularExpressions;
using PdfSharp.Pdf.IO;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Tests.Page;

/// <summary>What is handed over says what it must, the same on paper and on screen.</summary>
public sealed partial class HandoverTests
{
    private const string Caution = "Evidence for looking back, not a primary alarm and not for diagnosis. Local policy, the prescription and licensed clinicians decide; nothing has been changed on any monitor.";

    public static TheoryData<string> Names => [.. All.Keys];

    private static Dictionary<string, (Func<HandoverDocument> Compose, int Pages)> All { get; } = new()
    {
        ["recording"] = (() => HandoverPages.Recording(InventedPages.Recording), 1),
        ["decision"] = (() => HandoverPages.Decision(InventedPages.Accepted), 1),
        ["decision-with-map"] = (() => HandoverPages.Decision(InventedPages.Accepted with { WithMap = true }), 2),
        ["decision-refused"] = (() => HandoverPages.Decision(InventedPages.Refused), 1),
        ["decision-against"] = (() => HandoverPages.Decision(InventedPages.Refused with { Decided = InventedPages.Night.Settings[0].Proposal!.Best, DecidedName = "Night idea B", Until = "3 June", Evidence = InventedPages.Night.Settings[0] with { AskedAbout = [new NamedEvidence("Night idea B", InventedPages.Night.Settings[0].Proposal!.Best!)] } }), 1),
        ["decision-instead"] = (() => HandoverPages.Decision(InventedPages.Instead), 1),
        ["decision-instead-refused"] = (() => HandoverPages.Decision(InventedPages.Instead with { Evidence = InventedPages.Night.Settings[0] }), 1),
        ["card"] = (() => HandoverPages.SettingsCard(InventedPages.Card), 1),
        ["card-against"] = (() => HandoverPages.SettingsCard(InventedPages.Card with { Against = ["47 of 93 must-catch events missed", "3 of 93 late", "outside the bounds", "a proposal was refused"] }), 1),
        ["card-start"] = (() => HandoverPages.SettingsCard(InventedPages.Start), 1),
        ["shift"] = (() => HandoverPages.ShiftSummary(InventedPages.OneOfTheShift), 1),
        ["shift-busy"] = (() => HandoverPages.ShiftSummary(InventedPages.BusyShift), 1),
        ["shift-ward"] = (() => HandoverPages.ShiftSummary(InventedPages.WardOfTheShift), 1),
    };

    [Theory]
    [MemberData(nameof(Names))]
    public void A_page_is_a_pdf_of_its_paper_and_of_as_many_pages_as_promised(string name)
    {
        byte[] bytes = Pdf(All[name].Compose());
        using var read = PdfReader.Open(new MemoryStream(bytes), PdfDocumentOpenMode.Import);
        Keep(name + ".pdf", bytes);
        Assert.Equal(All[name].Pages, read.PageCount);
        Assert.Equal(name.StartsWith("card", StringComparison.Ordinal) ? 148 : 210, read.Pages[0].Width.Millimeter, 0.1);
        Assert.Equal(InventedPages.Made, read.Info.CreationDate);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_page_is_html_that_fetches_nothing_and_is_the_same_byte_for_byte(string name)
    {
        string page = Html(All[name].Compose());
        Keep(name + ".html", System.Text.Encoding.UTF8.GetBytes(page));
        Assert.Equal(page, Html(All[name].Compose()));
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        Assert.DoesNotContain("http", page.Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal).Replace("http-equiv", "", StringComparison.Ordinal), StringComparison.Ordinal);
        PageReader.Parse(page);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Paper_and_screen_carry_the_same_words(string name)
    {
        var document = All[name].Compose();
        string onPaper = Bare(Extracted(Pdf(document)));
        var body = PageReader.Parse(Html(document)).Descendants("main").Single();
        foreach (var svg in body.Descendants(PageReader.Svg + "svg").ToList()) svg.Remove();
        string[] said = [.. body.Descendants().Where(e => !e.HasElements && e.Value.Length > 0).Select(e => e.Value)];
        Assert.True(said.Length > 8);
        Assert.All(said, words => Assert.True(words.Split(' ', '\u00a0').All(w => onPaper.Contains(Bare(w), StringComparison.Ordinal)), $"on the screen and not on paper: {words}"));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_page_says_what_it_is_not_for_that_its_data_are_invented_and_what_made_it(string name)
    {
        string words = Bare(Extracted(Pdf(All[name].Compose())));
        foreach (string sentence in new[] { Caution, "Invented data. No patient, ward or monitor stands behind this page", "Stillwatch 0.1.0", "Averaging" })
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_of_a_recording_has_coverage_definitions_and_the_hash_of_its_file()
    {
        string words = Bare(Extracted(Pdf(HandoverPages.Recording(InventedPages.Recording))));
        foreach (string sentence in new[] { "Coverage:", "Definitions:", "Desaturation event:", InventedPages.Recording.Provenance.Inputs[0].Sha256!, "Mask off between 02:10 and 02:40", "Must-catch events here:", "Reviewer One: real and significant" })
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_decision_names_what_who_until_when_and_all_ten_checks()
    {
        string words = Bare(Extracted(Pdf(HandoverPages.Decision(InventedPages.Accepted))));
        foreach (string sentence in Reports.Wording.Reasons.Checks.Concat(["All adults of unit A", "Accepted by the monitoring lead on 3 March 2026. It holds until 3 June 2026", "Could still be missed, of such events"]))
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Refusals => InventedPages.Refused.Evidence.Proposal!.RefusedBecause.Select(Reports.Wording.Reasons.Plain);

    [Fact]
    public void A_decision_that_nobody_accepted_says_so_and_has_lines_to_sign()
    {
        string words = Bare(Extracted(Pdf(HandoverPages.Decision(InventedPages.Refused))));
        foreach (string sentence in Refusals.Concat(["For discussion: no change of settings.", "Nobody has accepted it yet.", "Accepted by", "No change is proposed: the checks that refuse one say why."]))
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_decided_against_a_refusal_are_never_shown_without_it()
    {
        var against = InventedPages.Accepted with { Evidence = InventedPages.Night.Settings[0] };
        Assert.True(against.Evidence.Proposal!.IsRefused);
        Assert.Contains("The evidence does not support these settings", Html(HandoverPages.Decision(against)), StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_that_were_decided_instead_of_the_proposed_ones_are_judged_as_themselves_and_the_frame_says_so()
    {
        string page = Html(HandoverPages.Decision(InventedPages.Instead));
        string words = Bare(System.Net.WebUtility.HtmlDecode(page));
        foreach (string sentence in new[]
        {
            "The evidence does not support these settings. They miss 47 of 93 must-catch events on these recordings.",
            "They lie outside the bounds inside which anything is proposed",
            "Checks of the settings decided",
            "47 missed of 93 must-catch events",
            "Of the settings the search looked for (" + Reports.Wording.SettingsWords.Short(InventedPages.Group.Settings[0].Proposal!.Best!.Settings.SpO2Low) + "), not of those decided",
        })
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
        Assert.DoesNotContain(Bare("0 missed of"), words, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_that_miss_nothing_but_are_not_the_proposed_ones_say_what_was_proposed()
    {
        var best = InventedPages.Group.Settings[0].Proposal!.Best!;
        var other = best with { Missed = 0, Late = 0, Settings = best.Settings with { Averaging = Time.Duration.FromSeconds(3) } };
        var proposal = InventedPages.Group.Settings[0].Proposal! with { Chosen = best, RefusedBecause = [] };
        var model = InventedPages.Accepted with { Decided = other, DecidedName = "Candidate B", Evidence = InventedPages.Group.Settings[0] with { Proposal = proposal } };
        string words = Bare(System.Net.WebUtility.HtmlDecode(Html(HandoverPages.Decision(model))));
        Assert.Contains(Bare("They are not what the program proposes: SpO2 below"), words, StringComparison.Ordinal);
        Assert.Contains(Bare("The settings decided were not judged by the ten checks."), words, StringComparison.Ordinal); // nobody handed the judgement in
        Assert.DoesNotContain(Bare("They are not what the program proposes"), Bare(Html(HandoverPages.Decision(model with { Decided = best }))), StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_says_what_differs_from_the_units_default_and_when_that_ends()
    {
        string words = Bare(Extracted(Pdf(HandoverPages.SettingsCard(InventedPages.Card))));
        foreach (string sentence in new[] { "Differs from the unit’s default: SpO2 low limit 86 % instead of 90 %; Delay 15 s instead of 10 s", "Ends: 4 March 2026, 08:00", "two points under the prescribed target" })
            Assert.Contains(Bare(sentence), words, StringComparison.Ordinal);
        Assert.Contains("No end was named: name one.", Html(HandoverPages.SettingsCard(InventedPages.Start)), StringComparison.Ordinal);
        Assert.Contains("A start to think from.", Html(HandoverPages.SettingsCard(InventedPages.Start)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_always_says_until_when_and_what_the_evidence_had_against_it()
    {
        var usual = InventedPages.Card with { Lines = [.. InventedPages.Card.Lines.Select(l => l with { UnitDefault = null })] };
        Assert.Contains("Nothing here differs from the unit’s default. Ends: 4 March 2026", Html(HandoverPages.SettingsCard(usual)), StringComparison.Ordinal);
        Assert.Contains("Nothing here differs from the unit’s default. No end was named.", Html(HandoverPages.SettingsCard(usual with { DeviationEnds = null })), StringComparison.Ordinal);
        Assert.DoesNotContain("Against the evidence", Html(HandoverPages.SettingsCard(usual)), StringComparison.Ordinal);
        Assert.Contains("Against the evidence: outside the bounds; a proposal was refused.", Html(HandoverPages.SettingsCard(usual with { Against = ["outside the bounds", "a proposal was refused"] })), StringComparison.Ordinal);
    }

    [Fact]
    public void A_picture_that_leaves_its_page_takes_along_what_the_page_says_of_it()
    {
        var page = HandoverPages.Recording(InventedPages.Recording);
        var bare = Pictures.Overview(InventedPages.Recording.Recording);
        var worded = page.Worded(bare);
        string text = Bare(string.Concat(Regex.Matches(worded.ToSvg(), ">([^<>]+)</text>").Select(m => System.Net.WebUtility.HtmlDecode(m.Groups[1].Value) + " ")));
        foreach (string said in new[] { "Invented data.", InventedPages.Recording.Title, "Averaging: by the monitor", "Coverage: ", "Definitions: ", "Software: ", "SHA-256", "licensed clinicians decide" })
            Assert.Contains(Bare(said), text, StringComparison.Ordinal);
        Assert.True(worded.Height > bare.Height + 100);
        Assert.Equal(bare.Width, worded.Width);
        Assert.Same(Picture.None, page.Worded(Picture.None));
    }

    [Fact]
    public void A_ward_has_a_line_for_each_patient_and_the_unit_itself_is_no_patient()
    {
        var ward = InventedPages.WardOfTheShift;
        var unit = new ShiftPatient { Patient = "Unit A", About = "the unit's own settings", IsWholeUnit = true, Pending = ["A proposal for adults waits for a decision."], Changed = ward.Patients[0].Changed };
        string page = Html(HandoverPages.ShiftSummary(ward with { Patients = [.. ward.Patients, unit] }));
        Assert.Contains($"8\u00a0patients; {ward.Patients.Sum(p => p.Recording?.MustCatch.Count ?? 0)}\u00a0must-catch events; 8\u00a0changes of settings; 9\u00a0things pending.", page, StringComparison.Ordinal);
        foreach (var p in ward.Patients.Where(p => p.Recording is not null)) Assert.Contains($">{p.Patient}: {Words.Of(p.Recording!.Category, p.Recording.IsCategoryAssumed)}<", page, StringComparison.Ordinal);
        Assert.Contains(">P12: adult<", page, StringComparison.Ordinal);
        Assert.Contains("nothing recorded", page, StringComparison.Ordinal);
        Assert.DoesNotContain(">Unit A: ", page, StringComparison.Ordinal);
        Assert.Contains("A proposal for adults waits for a decision.", page, StringComparison.Ordinal);
        foreach (string said in ward.Patients.SelectMany(p => p.Happened.Concat(p.Watch).Concat(p.Pending))) Assert.Contains(said, page, StringComparison.Ordinal); // nothing that was written down is lost
    }

    [Fact]
    public void One_patient_keeps_the_own_page_with_the_picture_where_something_stands_for_the_unit_besides()
    {
        var one = InventedPages.OneOfTheShift;
        var unit = new ShiftPatient { Patient = "Unit A", About = "the unit's own settings", IsWholeUnit = true, Pending = ["A proposal for adults waits for a decision."], Changed = one.Patients[0].Changed };
        var both = one with { Patients = [.. one.Patients, unit] };
        string alone = Html(HandoverPages.ShiftSummary(one)), page = Html(HandoverPages.ShiftSummary(both));
        Assert.Equal(alone.Split("<svg").Length, page.Split("<svg").Length);
        Assert.Contains("Happened besides", page, StringComparison.Ordinal);
        Assert.Contains("Unit A: the unit", page, StringComparison.Ordinal);
        Assert.Contains("A proposal for adults waits for a decision.", page, StringComparison.Ordinal);
        using var read = PdfReader.Open(new MemoryStream(Pdf(HandoverPages.ShiftSummary(both))), PdfDocumentOpenMode.Import);
        Assert.Equal(1, read.PageCount);
    }

    [Fact]
    public void A_shift_of_many_patients_is_numbered_page_by_page()
    {
        var ward = InventedPages.WardOfTheShift;
        byte[] bytes = Pdf(HandoverPages.ShiftSummary(ward with { Patients = [.. Enumerable.Repeat(ward.Patients, 8).SelectMany(p => p)] }));
        using var read = PdfReader.Open(new MemoryStream(bytes), PdfDocumentOpenMode.Import);
        string words = Bare(Extracted(bytes));
        Assert.InRange(read.PageCount, 2, 8);
        for (int i = 1; i <= read.PageCount; i++) Assert.Contains(Bare($"Page {i} of {read.PageCount}"), words, StringComparison.Ordinal);
        Assert.DoesNotContain(Bare("Page 1 of"), Bare(Extracted(Pdf(HandoverPages.ShiftSummary(InventedPages.OneOfTheShift)))), StringComparison.Ordinal);
    }

    [Fact]
    public void Many_files_are_named_by_one_hash_that_can_be_computed_again()
    {
        var files = new[] { new InputFile("b.csv", new string('2', 64)), new InputFile("a.csv", new string('1', 64)) };
        // printf '%s  a.csv\n%s  b.csv\n' <64 ones> <64 twos> | sha256sum, coreutils 9.1
        Assert.Equal("f50644cd80f5b196847278e46b3b690218d93a7b5727cbe90e6d85107b8dc74b", Handover.HandoverWords.ListHash(files));
        string page = Html(HandoverPages.Decision(InventedPages.Accepted with { Provenance = InventedPages.Accepted.Provenance with { Inputs = [.. Enumerable.Range(0, 30).Select(i => new InputFile($"n{i:00}.csv", new string('3', 64)))] } }));
        Assert.Contains("30\u00a0files, from n00.csv to n29.csv", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Hostile_names_stay_text_and_a_word_without_end_is_broken()
    {
        var hostile = InventedPages.Card with { For = "<script>alert(1)</script>", About = new string('x', 600), Remarks = ["\u202egnp.exe\u0000"] };
        Assert.DoesNotContain("<script>", Html(HandoverPages.SettingsCard(hostile)), StringComparison.Ordinal);
        Assert.Equal(600, Extracted(Pdf(HandoverPages.SettingsCard(hostile))).Count(c => c == 'x') - Extracted(Pdf(HandoverPages.SettingsCard(hostile with { About = "" }))).Count(c => c == 'x'));
    }

    [Fact]
    public void A_shift_without_patients_and_a_recording_without_SpO2_give_pages_that_say_so()
    {
        Assert.Contains("No patient was recorded in this shift.", Html(HandoverPages.ShiftSummary(InventedPages.OneOfTheShift with { Patients = [] })), StringComparison.Ordinal);
        var empty = InventedPages.Recording with { Recording = HandMade.Section([null, null]) with { SpO2 = null, Review = null, PulseRate = null, MustCatch = [] }, Marks = [] };
        Assert.Contains("The recording has no SpO2", Html(HandoverPages.Recording(empty)), StringComparison.Ordinal);
        Assert.NotEmpty(Pdf(HandoverPages.Recording(empty)));
    }

    private static byte[] Pdf(HandoverDocument document)
    {
        using var to = new MemoryStream();
        document.WritePdf(to, InventedPages.Made);
        return to.ToArray();
    }

    private static string Html(HandoverDocument document)
    {
        using var writer = new StringWriter();
        document.WriteHtml(writer);
        return writer.ToString();
    }

    /// <summary>Letters alone: where a line breaks is not what these tests are about.</summary>
    private static string Bare(string words) => Blanks().Replace(words, "");

    /// <summary>The text as a program that is not ours reads it: pdftotext of poppler-utils (22.12 here).</summary>
    private static string Extracted(byte[] pdf)
    {
        using var process = Started();
        if (process is null)
        {
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", "found no pdftotext, expected Debian's poppler-utils where CI=true");
            Assert.Skip("needs pdftotext, from Debian's poppler-utils");
        }

        var reading = process.StandardOutput.ReadToEndAsync();
        process.StandardInput.BaseStream.Write(pdf);
        process.StandardInput.Close();
        string text = reading.GetAwaiter().GetResult();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        return text;
    }

    private static Process? Started()
    {
        try
        {
            return Process.Start(new ProcessStartInfo("pdftotext", ["-enc", "UTF-8", "-raw", "-", "-"]) { RedirectStandardInput = true, RedirectStandardOutput = true, StandardOutputEncoding = System.Text.Encoding.UTF8 });
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }

    private static void Keep(string name, byte[] bytes)
    {
        if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) return;
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, "page-" + name), bytes);
    }

    [GeneratedRegex(@"[\s\u00a0]+")]
    private static partial Regex Blanks();
}
