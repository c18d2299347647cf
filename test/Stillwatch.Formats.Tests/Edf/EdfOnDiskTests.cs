using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Tests.Contract;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>A file on disk is read past the stream, by scattered reads with advice to the system: the result is that of the bytes in memory.</summary>
public sealed class EdfOnDiskTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("stillwatch-edf-disk-");

    [Theory]
    [InlineData(2)] // records of a few hundred bytes: read through
    [InlineData(20_000)] // 80 KB between the wanted pieces: read one by one
    public void One_wanted_signal_is_the_same_from_disk_as_from_memory(int samplesOfTheOthers)
    {
        var others = Enumerable.Range(0, 2).Select(i => new EdfTestSignal($"EEG {i}", samplesOfTheOthers) { Count = n => n % 100 }).ToList();
        byte[] bytes = new EdfFile { Records = 300, Signals = [others[0], EdfTestSignal.SpO2, EdfTestSignal.Pleth, others[1]] }.ToBytes();
        File.WriteAllBytes(Path.Combine(folder.FullName, "night.edf"), bytes);
        var options = new ReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2, ChannelKind.Pleth } };
        var fromDisk = new EdfRecordingReader().Read(new RecordingSource("night.edf", new DiskFolder(folder.FullName)), options);
        Assert.Equal(["SpO2", "Pleth"], fromDisk.Recording!.Channels.Select(c => c.Label));
        Assert.Equal(300, fromDisk.Recording.Find(ChannelKind.SpO2)!.Times.Count);
        Assert.Equal(Printed.Whole(new EdfRecordingReader().Read(RecordingSource.Of("night.edf", bytes), options)), Printed.Whole(fromDisk));
    }

    public void Dispose() => folder.Delete(recursive: true);
}
