using System.Text;

namespace Stillwatch.App.Terminal;

/// <summary>The output could not be written: the disk is full, or the device is gone. Nobody's defect, and not a file's either.</summary>
internal sealed class OutputLostException(IOException cause) : Exception(cause.Message, cause)
{
    private const int BrokenPipeOnUnix = 32;
    private const int BrokenPipeOnWindows = unchecked((int)0x8007006D);
    private const int PipeClosingOnWindows = unchecked((int)0x800700E8);

    /// <summary>Whether the reader of a pipe has gone, as after <c>| head</c>: it has what it wanted.</summary>
    public bool IsClosedPipe { get; } = cause.HResult is BrokenPipeOnUnix or BrokenPipeOnWindows or PipeClosingOnWindows;
}

/// <summary>Standard output, whose failures can be told from those of other files.</summary>
internal sealed class GuardedOutput : TextWriter
{
    private readonly TextWriter inner;

    public GuardedOutput(TextWriter inner)
    {
        this.inner = inner;
        CoreNewLine = inner.NewLine.ToCharArray();
    }

    public override Encoding Encoding => inner.Encoding;

    public override void Write(char value) => Guard(() => inner.Write(value));

    public override void Write(string? value) => Guard(() => inner.Write(value));

    public override void Write(char[] buffer, int index, int count) => Guard(() => inner.Write(buffer, index, count));

    public override void WriteLine() => Guard(inner.WriteLine);

    public override void WriteLine(string? value) => Guard(() => inner.WriteLine(value));

    public override void Flush() => Guard(inner.Flush);

    private static void Guard(Action write)
    {
        try
        {
            write();
        }
        catch (IOException e)
        {
            throw new OutputLostException(e);
        }
    }
}
