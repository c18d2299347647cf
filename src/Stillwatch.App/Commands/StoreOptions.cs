using System.CommandLine;
using Stillwatch.Storage;

namespace Stillwatch.App.Commands;

/// <summary>Where the workbench keeps what it keeps; the same for every command that opens the store.</summary>
internal sealed class StoreOptions
{
    private const string StoreFile = "stillwatch.db";

    private readonly Option<string?> data = new("--data") { HelpName = "DIR", Description = $"The data folder, made where it is not there; the store is its {StoreFile} [{DefaultFolder} unless given]" };

    private readonly Option<string?> database = new("--database") { HelpName = "CONNECTION", Description = "A PostgreSQL connection string, in place of the data folder's own store" };

    /// <summary>The user's own folder for programs' data.</summary>
    public static string DefaultFolder => Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "stillwatch");

    public void AddTo(Command command)
    {
        command.Options.Add(data);
        command.Options.Add(database);
    }

    public string FolderOf(ParseResult parsed) => Path.GetFullPath(parsed.GetValue(data) ?? DefaultFolder);

    /// <summary>Opens the store, and makes it where it is not there.</summary>
    /// <exception cref="StopException">Exit code 3: it cannot be opened.</exception>
    public Task<WorkbenchStore> OpenAsync(ParseResult parsed, TimeProvider clock, CancellationToken cancellation) => OpenAsync(PlaceOf(parsed), clock, cancellation);

    /// <summary>Where the store is to be; its folder is made where it is not there.</summary>
    /// <exception cref="StopException">Exit code 3: the folder cannot be made.</exception>
    public StorePlace PlaceOf(ParseResult parsed) => parsed.GetValue(database) is { } connection ? new StorePlace.PostgresDatabase(connection) : new StorePlace.SqliteFile(StoreIn(FolderOf(parsed)));

    /// <summary>Opens a store that has to be there: to look into one that was just made would answer a question that nobody asked.</summary>
    /// <exception cref="StopException">Exit code 3: it is not there, or cannot be opened.</exception>
    public Task<WorkbenchStore> OpenExistingAsync(ParseResult parsed, TimeProvider clock, CancellationToken cancellation)
    {
        StorePlace place = parsed.GetValue(database) is { } connection ? new StorePlace.PostgresDatabase(connection) : new StorePlace.SqliteFile(Path.Combine(FolderOf(parsed), StoreFile));
        return OpenedAsync(() => WorkbenchStore.OpenExistingAsync(place, clock, cancellation));
    }

    /// <summary>The store of a folder, which is made where it is not there.</summary>
    /// <exception cref="StopException">Exit code 3: the folder cannot be made.</exception>
    public static string StoreIn(string folder)
    {
        try
        {
            // What is kept here may be about patients: it is for this account alone.
            if (OperatingSystem.IsWindows()) Directory.CreateDirectory(folder);
            else Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StopException.Unreadable(new Trouble($"cannot make the data folder {folder}", e.Message, "a folder that may be written", folder, "it belongs to another account, or a file stands in its place; name another with --data"), e);
        }

        return Path.Combine(folder, StoreFile);
    }

    /// <exception cref="StopException">Exit code 3: it cannot be opened.</exception>
    public static Task<WorkbenchStore> OpenAsync(StorePlace place, TimeProvider clock, CancellationToken cancellation) => OpenedAsync(() => WorkbenchStore.OpenAsync(place, clock, cancellation));

    private static async Task<WorkbenchStore> OpenedAsync(Func<Task<WorkbenchStore>> open)
    {
        try
        {
            return await open();
        }
        catch (StoreException e)
        {
            throw StopException.Unreadable(new Trouble("cannot open the store", e.Found, e.Expected, e.Where, e.LikelyCause), e);
        }
    }
}
