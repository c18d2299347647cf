using System.Globalization;
using System.Text.Json;

namespace Stillwatch.Formats.Json;

/// <summary>
/// JSON token by token from a stream, so that a document of any length takes the memory of what is kept of it. No token may be longer
/// than <see cref="TokenLimit"/>. What is no JSON, or not what was expected, is an <see cref="UnreadableFileException"/>.
/// </summary>
internal sealed class JsonPull
{
    internal const int TokenLimit = 1 << 20;

    private static readonly byte[] ByteOrderMark = [0xEF, 0xBB, 0xBF];

    private readonly Stream stream;
    private readonly string name;
    private readonly Action<long>? progress;
    private byte[] buffer = new byte[1 << 16];
    private int start;
    private int end;
    private bool isFinal;
    private long consumed;
    private JsonReaderState state = new(new JsonReaderOptions { MaxDepth = 16 });
    private int valueStart;
    private int valueLength;

    public JsonPull(Stream stream, string name, Action<long>? progress = null)
    {
        this.stream = stream;
        this.name = name;
        this.progress = progress;
        Fill();
        if (buffer.AsSpan(0, end).StartsWith(ByteOrderMark)) start = ByteOrderMark.Length;
    }

    public JsonTokenType Token { get; private set; }

    /// <summary>Of a property name or a string.</summary>
    public string Text { get; private set; } = "";

    /// <summary>Where the token stands, for messages.</summary>
    public string Place => $"{name}, byte {consumed + 1}";

    /// <summary>Goes to the next token.</summary>
    /// <exception cref="UnreadableFileException">No JSON, or its end.</exception>
    public void Read()
    {
        if (!TryRead()) throw Wrong("the end of the document", "more of it", "the file was cut off");
    }

    /// <summary>Goes to the next token; false at the end of the document.</summary>
    public bool TryRead()
    {
        while (true)
        {
            var reader = new Utf8JsonReader(buffer.AsSpan(start, end - start), isFinal, state);
            try
            {
                if (reader.Read())
                {
                    Take(ref reader);
                    return true;
                }
            }
            catch (Exception e) when (e is JsonException or InvalidOperationException)
            {
                throw new UnreadableFileException(IssueLog.Show(e.Message.Split(" LineNumber:", 2)[0]), "JSON", Place, "the file was cut off, or changed by hand", e);
            }

            if (isFinal) return false;
            Fill();
        }
    }

    public void Expect(JsonTokenType token, string what)
    {
        if (Token != token) throw Wrong(Describe(), what, "another field stands here, or the file was changed by hand");
    }

    /// <summary>Enters the object that the current token opens and hands over each field; every field must be known, and none comes twice.</summary>
    /// <param name="what">For messages.</param>
    /// <param name="field">Reads the value, whose first token is current, to its last token. False: no such field.</param>
    public void Object(string what, Func<string, bool> field)
    {
        Expect(JsonTokenType.StartObject, $"{what}: an object");
        var seen = new HashSet<string>(StringComparer.Ordinal);
        while (true)
        {
            Read();
            if (Token == JsonTokenType.EndObject) return;
            string key = Text;
            if (!seen.Add(key)) throw Wrong($"the field {IssueLog.Show(key)} a second time", "each field once", "the file was changed by hand");
            Read();
            if (!field(key)) throw Wrong($"the field {IssueLog.Show(key)}", $"only the known fields of {what}", "another version wrote the file, or it was changed by hand");
        }
    }

    /// <summary>Enters the list that the current token opens; each item's first token is current when <paramref name="item"/> is called.</summary>
    public void List(string what, Action item)
    {
        Expect(JsonTokenType.StartArray, $"{what}: a list");
        while (true)
        {
            Read();
            if (Token == JsonTokenType.EndArray) return;
            item();
        }
    }

    public string String(string what)
    {
        Expect(JsonTokenType.String, $"{what}: a text");
        return Text;
    }

    public bool Boolean(string what) => Token switch
    {
        JsonTokenType.True => true,
        JsonTokenType.False => false,
        _ => throw Wrong(Describe(), $"{what}: true or false", "the file was changed by hand"),
    };

    public long Whole(string what, long least, long most)
    {
        Expect(JsonTokenType.Number, $"{what}: a whole number");
        if (long.TryParse(buffer.AsSpan(valueStart, valueLength), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long value) && value >= least && value <= most) return value;
        throw Wrong(Describe(), $"{what}: a whole number from {least} to {most}", "the file was changed by hand");
    }

    public decimal Decimal(string what)
    {
        Expect(JsonTokenType.Number, $"{what}: a number");
        const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        if (valueLength <= 64 && decimal.TryParse(buffer.AsSpan(valueStart, valueLength), style, CultureInfo.InvariantCulture, out decimal value)) return value;
        throw Wrong(Describe(), $"{what}: a decimal number", "the file was changed by hand");
    }

    /// <summary>A number written as a text, so that no other program rounds it on the way.</summary>
    public decimal DecimalString(string what)
    {
        string text = String(what);
        if (text.Length <= 64 && decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value)) return value;
        throw Wrong(IssueLog.Show(text), $"{what}: a decimal number in quotation marks", "the file was changed by hand");
    }

    /// <summary>Passes over the current value, whatever is in it.</summary>
    public void Skip()
    {
        if (Token is not (JsonTokenType.StartObject or JsonTokenType.StartArray)) return;
        for (int depth = 1; depth > 0;)
        {
            Read();
            if (Token is JsonTokenType.StartObject or JsonTokenType.StartArray) depth++;
            else if (Token is JsonTokenType.EndObject or JsonTokenType.EndArray) depth--;
        }
    }

    public UnreadableFileException Wrong(string found, string expected, string cause) => new(found, expected, Place, cause);

    private string Describe() => Token switch
    {
        JsonTokenType.StartObject => "an object",
        JsonTokenType.StartArray => "a list",
        JsonTokenType.String or JsonTokenType.PropertyName => IssueLog.Show(Text),
        JsonTokenType.EndObject or JsonTokenType.EndArray => "nothing",
        _ => IssueLog.Show(System.Text.Encoding.UTF8.GetString(buffer.AsSpan(valueStart, Math.Min(valueLength, 100)))),
    };

    private void Take(ref Utf8JsonReader reader)
    {
        Token = reader.TokenType;
        valueLength = reader.ValueSpan.Length;
        valueStart = start + (int)reader.TokenStartIndex;
        if (Token is JsonTokenType.PropertyName or JsonTokenType.String) Text = reader.GetString()!;
        state = reader.CurrentState;
        start += (int)reader.BytesConsumed;
        consumed += reader.BytesConsumed;
    }

    private void Fill()
    {
        if (start > 0)
        {
            buffer.AsSpan(start, end - start).CopyTo(buffer);
            end -= start;
            start = 0;
        }

        if (end == buffer.Length)
        {
            if (end >= TokenLimit) throw Wrong($"a text or number of more than {TokenLimit} bytes", "shorter ones", "the file is no recording, or a quotation mark is missing");
            Array.Resize(ref buffer, buffer.Length * 2);
        }

        int read = stream.Read(buffer, end, buffer.Length - end);
        end += read;
        isFinal = read == 0;
        progress?.Invoke(consumed);
    }
}
