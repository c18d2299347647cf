using System.Security.Cryptography;
using Stillwatch.App.Commands;
using Stillwatch.Formats;

namespace Stillwatch.App.Workbench.Imports;

/// <summary>How much one arrival may bring: a browser must not be able to fill the disk.</summary>
/// <param name="BytesPerFile">Of one file.</param>
/// <param name="BytesPerBatch">Of all files together.</param>
/// <param name="FilesPerBatch">How many.</param>
internal sealed record ArrivalLimits(long BytesPerFile, long BytesPerBatch, int FilesPerBatch)
{
    public static readonly ArrivalLimits Usual = new(4L << 30, 16L << 30, 2000);
}

/// <summary>Where files wait between their arrival and their import. A folder for each batch; only a batch that a page opened takes anything.</summary>
/// <remarks>A batch's key is random and known to its page alone, so no page of another site can put a file into it.</remarks>
internal sealed class ArrivalDesk
{
    private readonly string folder;
    private readonly ArrivalLimits limits;
    private readonly Lock door = new();
    private readonly Dictionary<string, StagedBatch> open = [];

    /// <param name="folder">Is emptied: what lies in it is left over from a program that ended.</param>
    /// <param name="limits">How much may arrive.</param>
    public ArrivalDesk(string folder, ArrivalLimits limits)
    {
        this.folder = folder;
        this.limits = limits;
        foreach (string left in Directory.Exists(folder) ? Directory.EnumerateDirectories(folder) : []) Empty(left);
    }

    /// <exception cref="StopException">The staging folder cannot be written.</exception>
    public StagedBatch Open()
    {
        string key = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        string path = Path.Combine(folder, key);
        try
        {
            // Recordings are about patients: what waits here is for this account alone, whoever made the folder around it.
            if (OperatingSystem.IsWindows()) Directory.CreateDirectory(path);
            else Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StopException.Unreadable(new Trouble("cannot take files in", e.Message, "a staging folder that may be written", folder, "the disk is full, or the folder belongs to another account"), e);
        }

        var batch = new StagedBatch(key, path);
        lock (door) open[key] = batch;
        return batch;
    }

    public StagedBatch? Find(string key)
    {
        lock (door) return open.GetValueOrDefault(key);
    }

    /// <summary>Ends a batch and deletes its files.</summary>
    public void Close(StagedBatch batch)
    {
        lock (door) open.Remove(batch.Key);
        Empty(batch.Folder);
    }

    /// <summary>Takes one file in, beside those that came before and in place of none of them; a broken arrival leaves nothing.</summary>
    /// <param name="batch">Where to.</param>
    /// <param name="name">As the browser gave it.</param>
    /// <param name="content">Its bytes.</param>
    /// <param name="length">What the browser says it will be; null: it does not say.</param>
    /// <param name="cancellation">Ends the arrival.</param>
    /// <returns>Null: it is there. Else what is wrong.</returns>
    public async Task<Trouble?> TakeInAsync(StagedBatch batch, string name, Stream content, long? length, CancellationToken cancellation)
    {
        if (!FileNames.IsPlain(name) || name.StartsWith('.'))
            return new Trouble("cannot take this file in", $"the name \"{Shown(name)}\"", "a plain file name: no folder in it, none of the characters " + FileNames.Forbidden + ", no dot at its beginning", Shown(name), "it was named on a system that allows more: give the file another name, and bring it in again");
        if (batch.Count >= limits.FilesPerBatch)
            return new Trouble($"cannot take {name} in", $"more than {limits.FilesPerBatch} files at once", $"at most {limits.FilesPerBatch}", name, "a whole disk was dropped: bring the files in several times");
        if (length > limits.BytesPerFile) return TooLarge(name, length.Value, limits.BytesPerFile);
        string path = Path.Combine(batch.Folder, name), draft = path + ".arriving";
        if (File.Exists(path))
            return new Trouble($"cannot take a second {name} in", "two files of one name among these", "each name once", name, "they lie in different folders: bring in the files of one folder, then those of the other; the first of them is here");
        long written = 0;
        bool isOurs = false;
        try
        {
            await using (var file = new FileStream(draft, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16, useAsync: true))
            {
                isOurs = true;
                byte[] buffer = new byte[1 << 16];
                for (int read; (read = await content.ReadAsync(buffer, cancellation)) > 0;)
                {
                    written += read;
                    if (written > limits.BytesPerFile) return TooLarge(name, written, limits.BytesPerFile);
                    if (batch.Bytes + written > limits.BytesPerBatch) return TooLarge("these files together", batch.Bytes + written, limits.BytesPerBatch);
                    await file.WriteAsync(buffer.AsMemory(0, read), cancellation);
                }
            }

            if (length is { } said && said != written)
                return new Trouble($"cannot take {name} in", $"{written} bytes", $"{said} bytes", name, "the connection broke in the middle: bring the file again");
            File.Move(draft, path, overwrite: false);
            batch.Add(name, written);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new Trouble($"cannot take {name} in", e.Message, "room in the staging folder", name, "the disk is full, or the connection broke");
        }
        finally
        {
            // Another arrival of the same name may be writing there.
            if (isOurs) Files.FilesTogether.Discard(draft);
        }
    }

    private static Trouble TooLarge(string what, long found, long most) =>
        new($"cannot take {what} in", $"{found:#,0} bytes", $"at most {most:#,0} bytes", what, "it is no recording; a very long one can be imported by the command stillwatch import");

    private static string Shown(string name) => name.Length <= 60 ? name : name[..60] + "…";

    private static void Empty(string path)
    {
        try
        {
            Directory.Delete(path, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be deleted now is deleted at the next start; nothing reads it meanwhile.
        }
    }
}

/// <summary>Files that arrived together, in a folder of their own.</summary>
/// <param name="key">Random; who knows it may put files in.</param>
/// <param name="folder">Where they lie.</param>
internal sealed class StagedBatch(string key, string folder)
{
    private readonly Lock door = new();
    private readonly Dictionary<string, long> files = [];

    public string Key => key;

    public string Folder => folder;

    public int Count
    {
        get { lock (door) return files.Count; }
    }

    public long Bytes
    {
        get { lock (door) return files.Values.Sum(); }
    }

    /// <summary>In ordinal order.</summary>
    public IReadOnlyList<string> Names
    {
        get { lock (door) return [.. files.Keys.Order(StringComparer.Ordinal)]; }
    }

    public string PathOf(string name) => Path.Combine(folder, name);

    public void Add(string name, long bytes)
    {
        lock (door) files[name] = bytes;
    }

    /// <summary>Takes one out again.</summary>
    public void Remove(string name)
    {
        lock (door) files.Remove(name);
        Files.FilesTogether.Discard(PathOf(name));
    }

    /// <summary>Counts what another hand wrote into the folder.</summary>
    public void AddWhatIsThere()
    {
        foreach (var file in new DirectoryInfo(folder).EnumerateFiles()) Add(file.Name, file.Length);
    }
}
