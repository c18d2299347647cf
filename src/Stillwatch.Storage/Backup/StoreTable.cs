using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Backup;

/// <summary>A table of the store as a backup writes it.</summary>
internal sealed record StoreTable(string Name, string OrderBy, IReadOnlyList<StoreColumn> Columns)
{
    // name | order | columns: a plain name is text, # a whole number, ? a truth, * bytes. In the order in which rows may refer to earlier ones.
    private const string Tables = """
        audit             | number                           | #number at by_actor action subject detail_json previous_hash hash
        recordings        | id                               | id name start_kind start_text #source_averaging_milliseconds format export_of ?is_invented #annotation_count *digest imported_at imported_by patient category unit oxygen source_averaging_seconds target_low target_high settings_in_force_json note search_text
        recording_files   | recording, number                | recording #number name sha256 #byte_count
        read_issues       | recording, number                | recording #number severity code place found expected assumed #alike_count
        attachments       | recording, number                | recording #number role name sha256 *content
        time_axes         | recording, number                | recording #number #row_count #first_milliseconds #last_milliseconds #period_milliseconds ?is_period_declared #rate_samples #rate_milliseconds
        channels          | recording, number                | recording #number #axis label kind unit holds #calibration_origin calibration_offset calibration_numerator calibration_denominator #entry_milliseconds #levels
        time_chunks       | recording, axis, chunk           | recording #axis #chunk #row_count #first_milliseconds #last_milliseconds *checksum *content
        sample_chunks     | recording, channel, level, chunk | recording #channel #level #chunk #row_count #first_milliseconds #last_milliseconds *checksum *content
        annotation_chunks | recording, chunk                 | recording #chunk #row_count *checksum *content
        review_marks      | number                           | #number recording reviewer #start_milliseconds #end_milliseconds verdict note made_at made_by withdrawn_at withdrawn_by
        blind_looks       | number                           | #number recording reviewer #start_milliseconds #end_milliseconds looked_at looked_by
        settings_history  | number                           | #number scope category unit patient name settings_json previous_settings_json why accepted_by valid_until evidence_json written_at written_by
        reports           | number                           | #number kind title media_type sha256 made_at made_by *content
        """;

    public static IReadOnlyList<StoreTable> All { get; } = [.. Tables.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Select(c =>
        new StoreTable(c[0], c[1], [.. c[2].Split(' ').Select(Column)]))];

    public string SelectSql => $"SELECT {string.Join(", ", Columns.Select(c => c.Name))} FROM {Name} ORDER BY {OrderBy}";

    public string InsertSql => $"INSERT INTO {Name} ({string.Join(", ", Columns.Select(c => c.Name))}) VALUES ({string.Join(", ", Columns.Select(c => "@" + c.Name))})";

    private static StoreColumn Column(string word) => word[0] switch
    {
        '#' => new StoreColumn(word[1..], ColumnType.Whole),
        '?' => new StoreColumn(word[1..], ColumnType.Truth),
        '*' => new StoreColumn(word[1..], ColumnType.Bytes),
        _ => new StoreColumn(word, ColumnType.Text),
    };
}
