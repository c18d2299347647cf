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

    [Fact]
    public void A_time_says_its_zone()
    {
        Assert.Equal("2026-03-10 08:00:00 UTC", AuditWords.When(SmallLibrary.Now, TimeZoneInfo.Utc));
        Assert.Equal("2026-03-10 13:30:00 +05:30", AuditWords.When(SmallLibrary.Now, TimeZoneInfo.CreateCustomTimeZone("half past", TimeSpan.FromMinutes(330), "half past", "half past")));
    }
}
