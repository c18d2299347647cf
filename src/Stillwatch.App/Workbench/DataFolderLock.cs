using Stillwatch.App.Commands;

namespace Stillwatch.App.Workbench;

/// <summary>
/// One workbench for one data folder: a second one would empty the first one's arrivals. Held while the program serves; the system lets go of it when a
/// process ends, however it ends.
/// </summary>
internal sealed class DataFolderLock : IDisposable
{
    private const string FileName = "serving";

    private readonly FileStream held;

    private DataFolderLock(FileStream held) => this.held = held;

    /// <exception cref="StopException">Exit code 3: another workbench holds it, or the folder cannot be written.</exception>
    public static DataFolderLock Take(string folder)
    {
        string path = Path.Combine(folder, FileName);
        try
        {
            Directory.CreateDirectory(folder);
            return new DataFolderLock(new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException e) when (File.Exists(path))
        {
            throw StopException.Unreadable(new Trouble("cannot start the workbench", "another workbench that holds the data folder", "one for each data folder", folder, "it runs already, perhaps in another window; end it there, or name another folder with --data"), e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StopException.Unreadable(new Trouble("cannot start the workbench", e.Message, "a data folder that may be written", folder, "it belongs to another account, or the disk is full"), e);
        }
    }

    public void Dispose() => held.Dispose();
}
