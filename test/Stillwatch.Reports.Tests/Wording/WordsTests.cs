using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Reports.Wording;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Tests.Wording;

public sealed class WordsTests
{
    [Theory]
    [InlineData(0, "0 s")]
    [InlineData(500, "0.5 s")]
    [InlineData(45_000, "45 s")]
    [InlineData(59_900, "59.9 s")]
    [InlineData(59_960, "1 min")]
    [InlineData(60_000, "1 min")]
    [InlineData(200_000, "3 min 20 s")]
    [InlineData(599_000, "9 min 59 s")]
    [InlineData(2_704_000, "45 min")]
    [InlineData(3_569_000, "59 min")]
    [InlineData(3_599_000, "1 h")]
    [InlineData(3_600_000, "1 h")]
    [InlineData(28_920_000, "8 h 2 min")]
    [InlineData(-45_000, "−45 s")]
    public void Times_are_said_in_the_units_a_ward_uses(long milliseconds, string expected) => Assert.Equal(expected, Plain(Words.Span(new Duration(milliseconds))));

    [Theory]
    [InlineData(0, "0")]
    [InlineData(0.02, "fewer than 0.1")]
    [InlineData(0.3, "0.3")]
    [InlineData(9.94, "9.9")]
    [InlineData(9.96, "10")]
    [InlineData(1234.5, "1,235")]
    public void A_small_load_is_not_rounded_to_nothing(double value, string expected) => Assert.Equal(expected, Words.RateWords(value));

    [Theory]
    [InlineData(0, "0 %")]
    [InlineData(0.0001, "less than 0.1 %")]
    [InlineData(0.0249, "2.5 %")]
    [InlineData(1, "100.0 %")]
    public void Shares_are_percent(double share, string expected) => Assert.Equal(expected, Plain(Words.Share(share)));

    [Fact]
    public void A_number_never_parts_from_its_unit() => Assert.Equal("88\u00a0%", Words.Saturation(Percent.Of(88)));

    [Theory]
    [InlineData(90, 10, 0, "SpO2 below 90 % for more than 10 s")]
    [InlineData(90, 0, 0, "SpO2 below 90 %, at once")]
    [InlineData(90, 0, 150, "SpO2 below 90 %, depth × time over 150 %·s")]
    [InlineData(88.5, 5, 60, "SpO2 below 88.5 % for more than 5 s, depth × time over 60 %·s")]
    public void Settings_are_said_as_strict_as_they_are(double limit, double delay, double area, string expected) =>
        Assert.Equal(expected, Plain(SettingsWords.Low(HandMade.Settings((decimal)limit, (decimal)delay, (decimal)area).SpO2Low)));

    [Fact]
    public void Must_catch_lines_say_whether_equal_counts()
    {
        Assert.Equal("at or below 85 % for 1 min or more", Plain(Words.Of(new MustCatchLine(Percent.Of(85), true, Duration.FromSeconds(60)))));
        Assert.Equal("below 80 % for 15 s or more", Plain(Words.Of(new MustCatchLine(Percent.Of(80), false, Duration.FromSeconds(15)))));
    }

    [Fact]
    public void Every_condition_category_and_verdict_has_words_of_its_own()
    {
        string[] conditions = [.. Enum.GetValues<AlarmCondition>().Select(Words.Of)];
        Assert.Equal(conditions.Length, conditions.Distinct().Count());
        Assert.All(Enum.GetValues<AlarmCondition>(), c => Assert.True(Words.Of(c) != c.ToString() || c == AlarmCondition.Interference, $"{c} is not in words"));
        string[] categories = [.. Enum.GetValues<PatientCategory>().Select(Words.Of)];
        Assert.Equal(categories.Length, categories.Distinct().Count());
    }

    [Theory]
    [InlineData("R14.1: zero misses are not zero risk", "Zero misses are not zero risk.")]
    [InlineData("R14.10: nobody looked.", "Nobody looked.")]
    [InlineData("plain already.", "Plain already.")]
    [InlineData("", "")]
    public void Reasons_are_sentences_without_the_names_of_rules(string words, string expected) => Assert.Equal(expected, Reasons.Plain(words));

    [Fact]
    public void Short_reasons_say_each_thing_once_and_keep_what_they_do_not_know()
    {
        var refused = HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 15), 9), null, "R14.8: one patient.", "R14.1: a.", "R14.1: b.", "the files contradict each other", "R14.77: unheard of");
        Assert.Equal(
            "One patient only; too few must-catch events, or too few patients with them, to be sure that none would be missed; The files contradict each other; Unheard of.",
            Reasons.Short(refused));
    }

    [Fact]
    public void A_reading_issue_is_told_in_plain_words_with_its_weight_and_count()
    {
        var issue = new ReadIssue(IssueSeverity.Doubt, "time.repeated", "line 12, column Time", "the same time twice", "rising times", "the first was kept", 3);
        Assert.Equal("May change a number. Line 12, column Time: found the same time twice; expected rising times. The first was kept. (3 alike; this is the first.)", PlainIssues.Words(issue));
        Assert.Equal("Somewhere: found nothing.", PlainIssues.Words(new ReadIssue(IssueSeverity.Note, "", "", "nothing", "", "")));
    }

    [Fact]
    public void Every_defined_spelling_leads_to_its_definition()
    {
        foreach (var entry in Glossary.Entries)
            foreach (string said in entry.Said)
                Assert.Equal($"<a class=\"term\" href=\"#word-{entry.Key}\">{said}</a>", Glossary.Linked(said, Glossary.Entries));
    }

    [Fact]
    public void Only_the_first_mention_leads_to_the_definition_and_parts_of_words_never_do()
    {
        Assert.Equal("<a class=\"term\" href=\"#word-fall\">falls</a> and falls", Glossary.Linked("falls and falls", Glossary.Entries));
        Assert.Equal("waterfalls", Glossary.Linked("waterfalls", Glossary.Entries));
        Assert.Equal("9 <a class=\"term\" href=\"#word-must-catch\">must-catch\u00a0events</a>", Glossary.Linked("9 must-catch\u00a0events", Glossary.Entries));
    }

    [Fact]
    public void A_word_that_the_page_does_not_explain_leads_nowhere() => Assert.Equal("falls", Glossary.Linked("falls", Glossary.OfLight));

    private static string Plain(string text) => text.Replace('\u00a0', ' ');
}
