using System.Text;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Imports;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>Files from a browser: only plain names, only so much, and nothing half.</summary>
public sealed class ArrivalDeskTests : IDisposable
{
    private readonly Folder folder = new();

    public void Dispose() => folder.Dispose();

    private ArrivalDesk Desk(long perFile = 100, long perBatch = 250, int files = 3) => new(folder["staging"], new ArrivalLimits(perFile, perBatch, files));

    [Theory]
    [InlineData("../night.csv")]
    [InlineData("a/night.csv")]
    [InlineData("a\\night.csv")]
    [InlineData("C:night.csv")]
    [InlineData("..")]
    [InlineData(".hidden")]
    [InlineData("")]
    [InlineData("night\n.csv")]
    public async Task A_name_that_is_no_plain_name_is_refused_and_nothing_is_written(string name)
    {
        var desk = Desk();
        var batch = desk.Open();
        Assert.Contains("plain file name", (await TakeAsync(desk, batch, name, "x"))!.Expected, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Path, "*", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task A_file_arrives_under_its_name_with_its_bytes()
    {
        var desk = Desk();
        var batch = desk.Open();
        Assert.Null(await TakeAsync(desk, batch, "night.csv", "Time,SpO2\n"));
        Assert.Equal("Time,SpO2\n", await File.ReadAllTextAsync(batch.PathOf("night.csv"), TestStore.Token));
        Assert.Same(batch, desk.Find(batch.Key));
        desk.Close(batch);
        Assert.Null(desk.Find(batch.Key));
        Assert.False(Directory.Exists(batch.Folder));
    }

    // Each line: what arrives before, then what is refused, and why.
    [Theory]
    [InlineData(0, 101, "101 bytes")]
    [InlineData(2, 60, "260 bytes")]
    [InlineData(3, 1, "more than 3 files")]
    public async Task More_than_the_limits_is_refused_and_leaves_nothing_behind(int before, int bytes, string found)
    {
        var desk = Desk();
        var batch = desk.Open();
        for (int i = 0; i < before; i++) Assert.Null(await TakeAsync(desk, batch, $"{i}.csv", new string('x', before == 2 ? 100 : 10)));
        Assert.Contains(found, (await TakeAsync(desk, batch, "last.csv", new string('x', bytes)))!.Found, StringComparison.Ordinal);
        Assert.Equal(before, Directory.GetFiles(batch.Folder).Length);
    }

    [Fact]
    public async Task A_second_arrival_of_the_same_name_does_not_take_the_first_ones_bytes_away()
    {
        var desk = Desk();
        var batch = desk.Open();
        Trouble? second = null;
        // While the first is on its way the second comes and is refused.
        var first = new WithInBetween("first", async () => second = await TakeAsync(desk, batch, "night.csv", "second"));
        Assert.Null(await desk.TakeInAsync(batch, "night.csv", first, length: 5, TestStore.Token));
        Assert.NotNull(second);
        Assert.Equal("first", await File.ReadAllTextAsync(batch.PathOf("night.csv"), TestStore.Token));
    }

    [Fact]
    public async Task Only_the_owner_may_read_what_arrived()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Windows has no such modes.");
            return;
        }

        var desk = Desk();
        var batch = desk.Open();
        Assert.Null(await TakeAsync(desk, batch, "night.csv", "x"));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(batch.Folder));
    }

    [Fact]
    public async Task A_second_file_of_one_name_never_takes_the_place_of_the_first()
    {
        var desk = Desk();
        var batch = desk.Open();
        Assert.Null(await TakeAsync(desk, batch, "PPG.csv", "of subject 1"));
        var trouble = await TakeAsync(desk, batch, "PPG.csv", "of subject 2");
        Assert.Equal("two files of one name among these", trouble!.Found);
        Assert.Equal("of subject 1", await File.ReadAllTextAsync(batch.PathOf("PPG.csv"), TestStore.Token));
    }

    [Theory]
    [InlineData("bed \"5\".csv")]
    [InlineData("22:40.csv")]
    public async Task A_name_that_another_system_allows_is_refused_with_what_to_do(string name)
    {
        var desk = Desk();
        var trouble = (await TakeAsync(desk, desk.Open(), name, "x"))!;
        Assert.Contains("none of the characters", trouble.Expected, StringComparison.Ordinal);
        Assert.Contains("give the file another name", trouble.LikelyCause, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_arrival_that_breaks_off_leaves_no_half_file()
    {
        var desk = Desk();
        var batch = desk.Open();
        var trouble = await desk.TakeInAsync(batch, "night.csv", new MemoryStream(new byte[40]), length: 80, TestStore.Token);
        Assert.Equal(("40 bytes", "80 bytes"), (trouble!.Found, trouble.Expected));
        Assert.Empty(Directory.GetFiles(batch.Folder));
        Assert.Empty(batch.Names);
    }

    [Fact]
    public async Task What_a_program_that_ended_left_behind_is_cleared_at_the_next_start()
    {
        var desk = Desk();
        var batch = desk.Open();
        await TakeAsync(desk, batch, "night.csv", "x");
        _ = Desk();
        Assert.False(Directory.Exists(batch.Folder));
    }

    private static Task<Commands.Trouble?> TakeAsync(ArrivalDesk desk, StagedBatch batch, string name, string text) =>
        desk.TakeInAsync(batch, name, new MemoryStream(Encoding.UTF8.GetBytes(text)), null, TestStore.Token);

    /// <summary>Bytes of an arrival, before whose first something else happens.</summary>
    private sealed class WithInBetween(string text, Func<Task> what) : MemoryStream(Encoding.UTF8.GetBytes(text))
    {
        private bool isDone;

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            if (!isDone)
            {
                isDone = true;
                await what();
            }

            return await base.ReadAsync(buffer, cancellationToken);
        }
    }
}
