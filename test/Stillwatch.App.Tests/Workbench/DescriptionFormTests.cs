using Stillwatch.App.Commands;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.App.Workbench.Review;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>What a person types of a recording: nothing is guessed, and what cannot be is said.</summary>
public sealed class DescriptionFormTests
{
    private const string ByCategory = """{ "format": "stillwatch.settings/1", "settings": [ { "name": "A", "category": "adult", "spo2Low": { "limit": 90, "delaySeconds": 10 } }, { "name": "H", "category": "hypercapnic", "spo2Low": { "limit": 86, "delaySeconds": 10 } } ] }""";

    [Fact]
    public void Empty_fields_are_not_known()
    {
        Assert.Equal(RecordingDescription.Nothing, new DescriptionForm().ToDescription());
    }

    [Fact]
    public void What_is_stored_comes_back_into_the_fields()
    {
        var said = new RecordingDescription { Patient = "p-1", Category = "paediatric:8mo", Unit = "B2", Oxygen = "air", SourceAveragingSeconds = 2.5m, TargetLow = 88, TargetHigh = 92, Note = "quiet night", SettingsInForceJson = new SettingsForm { Name = "x", Low = 90, LowDelay = 10 }.ToCheckedJson() };
        Assert.Equal(said, DescriptionForm.Of(said).ToDescription());
    }

    [Fact]
    public void What_a_file_leaves_open_is_taken_from_what_was_said_of_all_and_only_that()
    {
        var all = new DescriptionForm { Unit = "B2", Category = "adult", Oxygen = "air" };
        var own = new DescriptionForm { Patient = "p-1", Category = "hypercapnic" };
        Assert.Equal(new RecordingDescription { Patient = "p-1", Category = "hypercapnic", Unit = "B2", Oxygen = "air" }, own.ToDescription(all));
    }

    [Fact]
    public void A_settings_file_with_a_set_for_each_category_gives_each_recording_its_own()
    {
        var all = new DescriptionForm();
        all.TakeFile("in-force.json", ByCategory);
        Assert.Equal("H", SettingsForm.Kept(new DescriptionForm { Category = "hypercapnic" }.ToDescription(all).SettingsInForceJson)!.Name);
        var stop = Assert.Throws<StopException>(() => new DescriptionForm().ToDescription(all));
        Assert.Equal("the category of this recording", stop.Trouble.Expected);
    }

    // Each line: the field, what was typed, what the error names.
    [Theory]
    [InlineData("Age", "child", "a child without an age")]
    [InlineData("Prescribed target", "exchanged", "98 to 92 %")]
    [InlineData("Prescribed target", "half", "88 to nothing %")]
    [InlineData("Source averages over", "far", "9999 s")]
    public void What_cannot_be_is_refused_with_its_field(string field, string typed, string found)
    {
        var form = typed switch
        {
            "child" => new DescriptionForm { Category = DescriptionForm.Paediatric },
            "exchanged" => new DescriptionForm { TargetLow = 98, TargetHigh = 92 },
            "half" => new DescriptionForm { TargetLow = 88 },
            _ => new DescriptionForm { SourceAveraging = 9999 },
        };
        var trouble = Assert.Throws<StopException>(() => form.ToDescription()).Trouble;
        Assert.Equal((field, found), (trouble.Where, trouble.Found));
    }

    [Fact]
    public void What_is_said_of_all_is_judged_like_what_is_said_of_one_and_a_range_is_one_thing()
    {
        string FoundOf(DescriptionForm own, DescriptionForm all) => Assert.Throws<StopException>(() => own.ToDescription(all)).Trouble.Found;
        Assert.Equal("98 to 92 %", FoundOf(new DescriptionForm(), new DescriptionForm { TargetLow = 98, TargetHigh = 92 }));
        Assert.Equal("88 to nothing %", FoundOf(new DescriptionForm(), new DescriptionForm { TargetLow = 88 }));
        Assert.Equal("-5 s", FoundOf(new DescriptionForm(), new DescriptionForm { SourceAveraging = -5 }));
        Assert.Equal("88 to nothing %", FoundOf(new DescriptionForm { TargetLow = 88 }, new DescriptionForm { TargetLow = 94, TargetHigh = 98 }));
        var said = new DescriptionForm { TargetLow = 88, TargetHigh = 92 }.ToDescription(new DescriptionForm { TargetLow = 94, TargetHigh = 98 });
        Assert.Equal((88m, 92m), (said.TargetLow, said.TargetHigh));
    }

    [Theory]
    [InlineData(90.0, 92.0, "below the low limit 90 %")]
    [InlineData(190.0, null, "1 to 100")]
    [InlineData(null, 80.0, "spo2Low beside it")]
    public void Settings_that_cannot_be_are_refused_as_in_a_file(double? low, double? backstop, string expected)
    {
        var form = new SettingsForm { Low = (decimal?)low, Backstop = (decimal?)backstop };
        Assert.Equal(expected, Assert.Throws<StopException>(() => form.ToSettings()).Trouble.Expected);
    }

    [Fact]
    public void Settings_survive_the_fields()
    {
        var typed = new SettingsForm { Name = "Mine", Low = 88, LowDelay = 15, Area = 60, ClearMargin = 2, Backstop = 80, BackstopDelay = 5, High = 99, PulseLow = 45, PulseHigh = 130, OtherDelay = 12, Averaging = 8 };
        var settings = typed.ToSettings();
        Assert.Equal(settings, SettingsForm.Of(settings).ToSettings());
        Assert.Equal(settings, SettingsForm.Kept(typed.ToCheckedJson()));
    }
}
