using Microsoft.Data.Sqlite;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests.Workbench;

/// <summary><c>backup</c>, <c>restore</c> and <c>audit</c> on a library that <c>import</c> filled.</summary>
public sealed class StoreCommandTests : IDisposable
{
    private readonly Folder folder = new();

    public StoreCommandTests()
    {
        folder.WriteNight("night.csv", 600);
        Assert.Equal(ExitCode.Done, Ran.With("import", folder["night.csv"], "--data", Data, "--patient", "p-1").ExitCode);
    }

    private string Data => folder["library"];

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_library_goes_out_by_backup_and_comes_back_by_restore()
    {
        var backup = Ran.With("backup", "--to", folder["library.zip"], "--data", Data, "--json").Json();
        Assert.Equal("auditLastHash auditLines bytes counts damagedRecordings file madeAt marks recordings reports settings sha256", Keys(backup));
        Assert.Equal((1, 1), (backup.GetProperty("counts").GetProperty("recordings").GetInt32(), backup.GetProperty("counts").GetProperty("auditLines").GetInt32()));
        Assert.Equal(new FileInfo(folder["library.zip"]).Length, backup.GetProperty("bytes").GetInt64());

        var restored = Ran.With("restore", folder["library.zip"], "--data", folder["second"], "--json").Json();
        Assert.Equal(backup.GetRawText(), restored.GetRawText());
        Assert.Equal("thereAlready", Ran.With("import", folder["night.csv"], "--data", folder["second"], "--json").Json().GetProperty("files")[0].GetProperty("state").GetString());
        Assert.True(Ran.With("audit", "verify", "--data", folder["second"], "--json").Json().GetProperty("whole").GetBoolean());
    }

    [Fact]
    public void The_pages_say_what_went_out_and_what_came_back()
    {
        var backup = Ran.With("backup", "--to", folder["library.zip"], "--data", Data);
        Assert.Contains("1 recording, 0 review marks, 0 lines of settings history, 0 reports", backup.Words, StringComparison.Ordinal);
        Assert.Contains("Audit: 1 line, whole", backup.Words, StringComparison.Ordinal);
        var restored = Ran.With("restore", folder["library.zip"], "--data", folder["second"]);
        Assert.Contains("What was restored?", restored.Out, StringComparison.Ordinal);
        Assert.All(new[] { backup, restored }, page => Assert.Contains("Local policy", page.Words, StringComparison.Ordinal));
    }

    [Fact]
    public void Samples_that_the_disk_changed_are_said_by_backup_and_by_restore_and_end_with_code_3()
    {
        Tamper("UPDATE sample_chunks SET content = ZEROBLOB(LENGTH(content)) WHERE channel = 0 AND level = 0");
        foreach (var ran in new[] { Ran.With("backup", "--to", folder["library.zip"], "--data", Data), Ran.With("restore", folder["library.zip"], "--data", folder["second"]) })
        {
            Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
            Assert.Contains("DAMAGED: 1 recording has facts, samples", ran.Words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Nothing_is_written_over_and_nothing_is_mixed()
    {
        folder.Write("library.zip", "something else");
        var backup = Ran.With("backup", "--to", folder["library.zip"], "--data", Data);
        Assert.Equal(ExitCode.Unreadable, backup.ExitCode);
        Assert.Contains("found a file of that name", backup.ErrorWords, StringComparison.Ordinal);
        Assert.Equal("something else", File.ReadAllText(folder["library.zip"]));

        Ran.With("backup", "--to", folder["good.zip"], "--data", Data);
        var restored = Ran.With("restore", folder["good.zip"], "--data", Data);
        Assert.Equal(ExitCode.Unreadable, restored.ExitCode);
        Assert.Contains("a store that holds something already", restored.ErrorWords, StringComparison.Ordinal);
        var none = Ran.With("restore", folder["library.zip"], "--data", folder["third"]);
        Assert.Equal(ExitCode.Unreadable, none.ExitCode);
        Assert.Contains("does not hold together", none.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void The_audit_is_listed_and_read_again()
    {
        var lines = Ran.With("audit", "list", "--data", Data, "--json").Json().GetProperty("lines");
        Assert.Equal("action at by detailJson hash number previousHash subject", Keys(lines[0]));
        Assert.Equal(("recording.imported", "local"), (lines[0].GetProperty("action").GetString(), lines[0].GetProperty("by").GetString()));
        Assert.Contains("recording.imported", Ran.With("audit", "list", "--data", Data).Words, StringComparison.Ordinal);
        var verdict = Ran.With("audit", "verify", "--data", Data, "--json").Json();
        Assert.Equal("auditLastHash auditLines because brokenAt whole", Keys(verdict));
        Assert.Equal(lines[0].GetProperty("hash").GetString(), verdict.GetProperty("auditLastHash").GetString());
        Assert.Contains("Whole: 1 line", Ran.With("audit", "verify", "--data", Data).Words, StringComparison.Ordinal);

        Ran.With("backup", "--to", folder["a.zip"], "--data", Data);
        var newest = Ran.With("audit", "list", "--last", "1", "--data", Data, "--json").Json().GetProperty("lines");
        Assert.Equal("store.backedup", Assert.Single(newest.EnumerateArray()).GetProperty("action").GetString());
    }

    [Fact]
    public void A_line_that_was_changed_outside_the_program_ends_with_code_3()
    {
        Tamper("DROP TRIGGER audit_lines_stay_as_they_are; UPDATE audit SET by_actor = 'somebody else'");
        var page = Ran.With("audit", "verify", "--data", Data);
        Assert.Equal(ExitCode.Unreadable, page.ExitCode);
        Assert.Contains("NOT whole, from line 1 on: line 1 was changed after it was written", page.Words, StringComparison.Ordinal);
        Assert.Equal(1, Ran.With("audit", "verify", "--data", Data, "--json").Json().GetProperty("brokenAt").GetInt32());
        Assert.Equal(ExitCode.Unreadable, Ran.With("backup", "--to", folder["a.zip"], "--data", Data).ExitCode);
        Assert.False(File.Exists(folder["a.zip"]));
    }

    [Theory]
    [InlineData("audit verify")]
    [InlineData("audit list")]
    [InlineData("backup --to x.zip")]
    public void A_store_that_is_not_there_is_not_made_to_answer(string words)
    {
        var ran = Ran.With([.. words.Split(' '), "--data", folder["nowhere"]]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("found no store", ran.ErrorWords, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder["nowhere"]));
    }

    [Theory]
    [InlineData("audit verify")]
    [InlineData("backup --to {0}")]
    public void An_empty_file_is_no_store_and_does_not_become_one(string words)
    {
        Directory.CreateDirectory(folder["empty"]);
        folder.Write("empty/stillwatch.db", "");
        var ran = Ran.With([.. string.Format(System.Globalization.CultureInfo.InvariantCulture, words, folder["x.zip"]).Split(' '), "--data", folder["empty"]]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("found no store", ran.ErrorWords, StringComparison.Ordinal);
        Assert.False(File.Exists(folder["x.zip"]));
    }

    [Fact]
    public void An_address_that_this_machine_does_not_have_is_told_in_words()
    {
        // An address kept for documentation, which no machine has.
        var ran = Ran.With("serve", "--address", "203.0.113.9", "--port", "0", "--data", Data);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("cannot start the workbench", ran.ErrorWords, StringComparison.Ordinal);
        Assert.Contains("203.0.113.9", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("audit")]
    [InlineData("audit mend")]
    [InlineData("audit list --last 0")]
    [InlineData("audit list --last x")]
    [InlineData("backup")]
    [InlineData("restore")]
    public void A_command_line_that_is_none_ends_with_code_2(string words) => Assert.Equal(ExitCode.Usage, Ran.With([.. words.Split(' '), "--data", Data]).ExitCode);

    [Fact]
    public void The_password_of_a_database_is_in_no_message()
    {
        var ran = Ran.With("audit", "verify", "--database", "Host=/nowhere/at/all;Username=unit;Password=sesame;Database=x");
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.DoesNotContain("sesame", ran.Out + ran.Error, StringComparison.Ordinal);
    }

    private void Tamper(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={Path.Combine(Data, "stillwatch.db")};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static string Keys(System.Text.Json.JsonElement json) => string.Join(' ', json.EnumerateObject()
        .SelectMany(p => p.Value.ValueKind == System.Text.Json.JsonValueKind.Object ? p.Value.EnumerateObject().Select(q => q.Name).Append(p.Name) : [p.Name]).Order(StringComparer.Ordinal));
}
