using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.AuditTrail;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>The audit as somebody reads it who knows no codes.</summary>
public class AuditWordsTests
{
    [Theory]
    [InlineData("recording.imported", "recording imported")]
    [InlineData("mark.withdrawn", "mark withdrawn")]
    [InlineData("settings.accepted", "settings decided")]
    [InlineData("mark.moved", "mark moved")]
    public void What_was_done_is_said_in_words(string code, string words) => Assert.Equal(words, AuditWords.Action(code));

    [Theory]
    [InlineData("""{"name":"night 1.csv","format":"separated text"}""", "night 1.csv")]
    [InlineData("""{"kind":"decision","title":"Settings for low SpO2: Adult"}""", "Settings for low SpO2: Adult")]
    [InlineData("""{"scope":"patient","Name":"prepared for P-17"}""", "prepared for P-17")]
    [InlineData("""{"from":{"name":"x"}}""", null)]
    [InlineData("""{"name":7}""", null)]
    [InlineData("""{"name":""}""", null)]
    [InlineData("[]", null)]
    [InlineData("{\"name\":\"cut", null)] // a line changed from outside is shown all the same
    public void A_line_is_named_as_people_name_what_it_is_about(string detail, string? name) => Assert.Equal(name, AuditWords.NameOf(detail));

    [Fact]
    public void A_time_says_its_zone()
    {
        Assert.Equal("2026-03-10 08:00:00 UTC", AuditWords.When(SmallLibrary.Now, TimeZoneInfo.Utc));
        Assert.Equal("2026-03-10 13:30:00 +05:30", AuditWords.When(SmallLibrary.Now, TimeZoneInfo.CreateCustomTimeZone("half past", TimeSpan.FromMinutes(330), "half past", "half past")));
    }
}
