using System.Text;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>The fields of <see cref="DescriptionForm"/>.</summary>
public sealed partial class DescriptionFields
{
    private const long LargestSettingsFile = 1 << 20;

    private Trouble? trouble;

    [Parameter, EditorRequired] public DescriptionForm Form { get; set; } = null!;

    /// <summary>Unique among the fields of one page.</summary>
    [Parameter, EditorRequired] public string Prefix { get; set; } = "";

    [Parameter] public bool WithPatient { get; set; } = true;

    /// <summary>What an empty choice says.</summary>
    [Parameter] public string Empty { get; set; } = "not known";

    /// <summary>Settings files that arrived together with the recordings: their text by name.</summary>
    [Parameter] public IReadOnlyDictionary<string, string> Texts { get; set; } = new Dictionary<string, string>();

    private IReadOnlyList<string> SettingsFiles => [.. Texts.Keys];

    private string Choice
    {
        get => Form.Settings switch { SettingsSource.Typed => "typed", SettingsSource.FromFile => Form.SettingsFileName, _ => "" };
        set
        {
            if (value is "typed") Form.Settings = SettingsSource.Typed;
            else if (value.Length == 0) Form.Settings = SettingsSource.NotKnown;
            else if (Texts.TryGetValue(value, out string? text)) Form.TakeFile(value, text);
            else Form.Settings = SettingsSource.FromFile;
        }
    }

    private async Task TakeFileAsync(InputFileChangeEventArgs chosen)
    {
        trouble = null;
        try
        {
            using var reader = new StreamReader(chosen.File.OpenReadStream(LargestSettingsFile), Encoding.UTF8);
            string text = await reader.ReadToEndAsync();
            SettingsFile.OfText(chosen.File.Name, text);
            Form.TakeFile(chosen.File.Name, text);
        }
        catch (StopException e)
        {
            trouble = e.Trouble;
        }
        catch (IOException e)
        {
            trouble = new Trouble($"cannot read {chosen.File.Name}", e.Message, $"a settings file of at most {LargestSettingsFile:#,0} bytes", chosen.File.Name, "another file was chosen");
        }
    }

    private string Id(string name) => $"{Prefix}-{name}";
}
