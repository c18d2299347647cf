using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Whose notes a file holds.</summary>
public sealed class InspectNotesTests
{
    [Fact]
    public void What_an_export_took_along_is_not_shown_as_the_sources_word()
    {
        using var folder = new Folder();
        string night = folder.WriteNight("night.csv");
        Assert.Equal(Commands.ExitCode.Done, Ran.With("export", night, "--to", folder["night.edf"]).ExitCode);
        var page = Ran.With("inspect", folder["night.edf"]);
        Assert.Contains("Written by Stillwatch, not by the source: ", page.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("of the source, the first at", page.Words, StringComparison.Ordinal);
        var json = Ran.With("inspect", folder["night.edf"], "--json").Json().GetProperty("recordings")[0];
        Assert.True(json.GetProperty("annotations").GetInt32() > 0);
        Assert.Equal(0, json.GetProperty("annotationTexts").GetArrayLength());
    }
}
