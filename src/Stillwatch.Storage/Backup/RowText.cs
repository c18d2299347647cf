using System.Buffers;
using System.Data.Common;
using System.Text.Json;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Backup;

/// <summary>A row as a line of JSON: an array with one value a column; bytes as Base64.</summary>
internal static class RowText
{
    // Not for a page: nothing needs escaping but what JSON itself asks for.
    private static readonly JsonWriterOptions Options = new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping, SkipValidation = true };

    public static void Write(DbDataReader row, StoreTable table, ArrayBufferWriter<byte> to)
    {
        using (var json = new Utf8JsonWriter(to, Options))
        {
            json.WriteStartArray();
            for (int i = 0; i < table.Columns.Count; i++)
            {
                if (row.IsDBNull(i))
                {
                    json.WriteNullValue();
                    continue;
                }

                switch (table.Columns[i].Type)
                {
                    case ColumnType.Text:
                        json.WriteStringValue(row.GetString(i));
                        break;
                    case ColumnType.Whole:
                        json.WriteNumberValue(row.GetInt64(i));
                        break;
                    case ColumnType.Truth:
                        json.WriteBooleanValue(row.GetBoolean(i));
                        break;
                    default:
                        json.WriteBase64StringValue(row.GetFieldValue<byte[]>(i));
                        break;
                }
            }

            json.WriteEndArray();
        }

        to.Write("\n"u8);
    }

    /// <summary>Puts the values of a line into the parameters of a statement.</summary>
    /// <exception cref="InvalidDataException">The line is not a row of the table.</exception>
    public static void Read(ReadOnlySpan<byte> line, StoreTable table, DbParameterCollection into)
    {
        try
        {
            var json = new Utf8JsonReader(line);
            Require(json.Read() && json.TokenType == JsonTokenType.StartArray, table);
            for (int i = 0; i < table.Columns.Count; i++)
            {
                Require(json.Read() && json.TokenType != JsonTokenType.EndArray, table);
                into[i].Value = json.TokenType == JsonTokenType.Null ? DBNull.Value : table.Columns[i].Type switch
                {
                    ColumnType.Text => json.GetString()!,
                    // SQLite keeps a truth as a whole number.
                    ColumnType.Whole => json.TokenType is JsonTokenType.True or JsonTokenType.False ? (json.GetBoolean() ? 1L : 0L) : json.GetInt64(),
                    ColumnType.Truth => json.GetBoolean(),
                    _ => json.GetBytesFromBase64(),
                };
            }

            Require(json.Read() && json.TokenType == JsonTokenType.EndArray && !json.Read(), table);
        }
        catch (Exception e) when (e is JsonException or FormatException or InvalidOperationException)
        {
            throw new InvalidDataException($"a line of {table.Name} that cannot be read", e);
        }
    }

    private static void Require(bool condition, StoreTable table)
    {
        if (!condition) throw new InvalidDataException($"a line of {table.Name} with other columns");
    }
}
