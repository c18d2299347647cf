using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>One file of a batch on its way into the library.</summary>
/// <param name="name">Its name in the batch's folder.</param>
public sealed class ArrivedRecording(string name)
{
    private ReadingAnswers readAs = new();

    public string Name => name;

    public ReadingAnswers Answers { get; } = new();

    /// <summary>Null: it could not be read.</summary>
    public ImportPreview? Preview { get; private set; }

    /// <summary>Why it could not be read or stored.</summary>
    public Trouble? Trouble { get; set; }

    public DescriptionForm Description { get; private set; } = new();

    /// <summary>Name of the list of what the monitor itself signalled, among the files that arrived; empty: none.</summary>
    public string AlarmLog { get; set; } = "";

    /// <summary>A person has looked at what was in doubt.</summary>
    public bool IsConfirmed { get; set; }

    public bool IsOpen { get; set; }

    /// <summary>The same bytes are in the library.</summary>
    public bool IsThere { get; set; }

    /// <summary>Not to be stored.</summary>
    public bool IsLeftOut { get; set; }

    public StoreOutcome? Outcome { get; set; }

    /// <summary>What was said of how it is to be read is not yet in what is shown of it.</summary>
    public bool IsToBeReadAgain => Answers != readAs;

    public bool IsInDoubt => Preview is { Questions.Count: > 0 } && !IsConfirmed;

    /// <summary>It waits for an answer of a person.</summary>
    public bool NeedsAWord => (IsInDoubt || (Preview is not null && IsToBeReadAgain)) && !IsLeftOut && !IsThere && Outcome is null;

    /// <summary>It stands there as it would be stored, and somebody could look at it.</summary>
    public bool CanBeStored => Preview is not null && !IsToBeReadAgain && !IsInDoubt && !IsLeftOut && !IsThere && Outcome is null;

    /// <summary>Reads it as the answers say; trouble takes the place of an exception.</summary>
    /// <param name="path">Where it lies.</param>
    /// <param name="progress">Bytes read so far.</param>
    /// <param name="cancellation">Ends the reading.</param>
    public void Read(string path, IProgress<long>? progress, CancellationToken cancellation)
    {
        bool isFirst = Preview is null;
        try
        {
            var answers = Answers with { };
            Preview = ImportService.Preview(path, Choices(progress, cancellation));
            readAs = answers;
            Trouble = null;
            if (isFirst)
            {
                Description = DescriptionForm.Of(Preview.Known);
                AlarmLog = Preview.AlarmLog ?? "";
            }
        }
        catch (StopException e)
        {
            Trouble = InBatchWords(e.Trouble, path);
        }
    }

    public ReadingChoices Choices(IProgress<long>? progress, CancellationToken cancellation) => Answers.Choices(bytes =>
    {
        cancellation.ThrowIfCancellationRequested();
        progress?.Report(bytes);
    });

    // The folder in which files wait means nothing to whoever brought them, nor do the options of a command.
    private static Trouble InBatchWords(Trouble trouble, string path)
    {
        string folder = Path.GetDirectoryName(path)! + Path.DirectorySeparatorChar;
        string Plain(string text) => text.Replace(folder, "", StringComparison.Ordinal);
        return FieldWords.Of(new Trouble(Plain(trouble.Title), Plain(trouble.Found), Plain(trouble.Expected), Plain(trouble.Where), Plain(trouble.LikelyCause)));
    }
}
