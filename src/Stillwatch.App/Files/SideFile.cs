using System.Text.Json;
using Stillwatch.App.Commands;

namespace Stillwatch.App.Files;

/// <summary>
/// Strict reading of a JSON side file: every field known, of the right kind and within its bounds, or an error that says
/// found, expected and where. Nothing is guessed and nothing is skipped.
/// </summary>
public sealed class SideFile
{
    private const long LargestBytes = 16 * 1024 * 1024;

    private SideFile(string path, SideFileField root)
    {
        Path = path;
        Root = root;
    }

    public string Path { get; }

    public SideFileField Root { get; }

    /// <param name="path">The file.</param>
    /// <param name="format">What its field "format" must say, e.g. <c>stillwatch.settings/1</c>.</param>
    /// <exception cref="StopException">Exit code 3.</exception>
    public static SideFile Open(string path, string format) => Of(path, ReadBytes(path), format);

    /// <summary>The same of bytes that are held already.</summary>
    /// <param name="path">What errors call it.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="format">What its field "format" must say.</param>
    /// <exception cref="StopException">Exit code 3.</exception>
    public static SideFile Of(string path, byte[] bytes, string format)
    {
        var root = Parse(path, bytes);
        var field = new SideFileField(path, "$", root);
        string found = field.Required("format").Text();
        if (found != format)
            throw field.Required("format").Wrong($"\"{found}\"", $"\"{format}\"", "another kind of side file was given, or it was written for another version");
        return new SideFile(path, field);
    }

    private static byte[] ReadBytes(string path)
    {
        try
        {
            var info = new FileInfo(path);
            if (info.Exists && info.Length > LargestBytes)
                throw StopException.Unreadable(new Trouble($"cannot read {path}", $"{info.Length} bytes", $"a JSON side file of at most {LargestBytes} bytes", path, "a recording was given in place of a side file"));
            return File.ReadAllBytes(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(InputFile.WhyNotOpened(path, e), e);
        }
    }

    private static JsonElement Parse(string path, byte[] bytes)
    {
        if (bytes.AsSpan().Trim(" \t\r\n\uFEFF"u8).IsEmpty)
            throw StopException.Unreadable(new Trouble($"cannot read {path}", "the file is empty", "JSON (see docs/files.md)", path, "what wrote it was stopped, or the disk was full"));
        ReadOnlyMemory<byte> text = bytes.AsSpan().StartsWith("\uFEFF"u8) ? bytes.AsMemory(3) : bytes;
        try
        {
            var options = new JsonDocumentOptions { MaxDepth = 32, AllowDuplicateProperties = false, CommentHandling = JsonCommentHandling.Skip };
            using var document = JsonDocument.Parse(text, options);
            return document.RootElement.Clone();
        }
        catch (JsonException e)
        {
            string where = e.LineNumber is { } line ? $"{path}, line {line + 1}, byte {e.BytePositionInLine + 1}" : path;
            string found = e.Message.Split(" LineNumber:", 2)[0].Split(" Path:", 2)[0];
            throw StopException.Unreadable(new Trouble($"cannot read {path}", found, "JSON (see docs/files.md)", where, "a comma, a bracket or a quotation mark is missing or doubled"), e);
        }
    }
}
