using CsCheck;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Text;
using Stillwatch.Formats.Csv.Times;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>The fast roads for everyday cells say what the slow, obvious ones say.</summary>
public class CsvFastRoadTests
{
    private static readonly Gen<string> CellGen = Gen.OneOf(
        Gen.Decimal[-3000, 3000].Select(d => Math.Round(d, 3).ToString()),
        Gen.Int[-100, 3000].Select(i => i.ToString()),
        Gen.String[Gen.Char["019.,-+e x"], 0, 9]);

    [Fact]
    public void A_plain_number_is_the_number_that_the_full_reading_gives()
    {
        Gen.Select(CellGen, Gen.Char[".,"]).Sample((cell, mark) =>
        {
            bool plain = DecimalText.TryReadPlain(cell, mark, out int fast);
            return !plain || (DecimalText.Read(cell, mark, out int slow) == NumberReading.Number && slow == fast);
        }, iter: 200_000);
    }

    [Theory]
    [InlineData("97", 97_000_000)]
    [InlineData("97.5", 97_500_000)]
    [InlineData("-0.000001", -1)]
    [InlineData("0", 0)]
    [InlineData("2146.999999", 2_146_999_999)]
    public void Everyday_numbers_take_the_fast_road(string cell, int micro)
    {
        Assert.True(DecimalText.TryReadPlain(cell, '.', out int fast));
        Assert.Equal(micro, fast);
    }

    [Theory]
    [InlineData("2147.483647", 2_147_483_647, "Number")]
    [InlineData("2147.483648", 0, "TooLarge")]
    [InlineData("1e30", 0, "TooLarge")]
    [InlineData("1e999", 0, "TooLarge")]
    [InlineData("99999999999999999999999999999999999999", 0, "TooLarge")]
    [InlineData("9.7e1", 97_000_000, "Number")]
    [InlineData(" 97 ", 97_000_000, "Number")]
    [InlineData("0.1234565", 123_457, "Rounded")]
    [InlineData("97,5", 0, "NotANumber")]
    [InlineData("1 000", 0, "NotANumber")]
    [InlineData("NaN", 0, "NotANumber")]
    [InlineData("Infinity", 0, "NotANumber")]
    [InlineData("0x10", 0, "NotANumber")]
    [InlineData("", 0, "NotANumber")]
    [InlineData(".", 0, "NotANumber")]
    public void Unusual_numbers_take_the_slow_road(string cell, int micro, string reading)
    {
        Assert.Equal(reading, DecimalText.Read(cell, '.', out int value).ToString());
        Assert.Equal(micro, value);
    }

    // A reader that has read other rows before agrees with one that has not: what it remembers changes nothing.
    [Theory]
    [InlineData("Local", "yyyy-MM-ddTHH:mm:ss.fff")]
    [InlineData("Local", "yyyy-MM-dd HH:mm:ss")]
    [InlineData("Local", "dd.MM.yyyy HH:mm:ss,f")]
    [InlineData("Local", "dd/MM/yyyy hh:mm:ss tt")]
    [InlineData("Zoned", "yyyy-MM-ddTHH:mm:ss.ffffZ")]
    [InlineData("ElapsedClock", "HH:mm:ss")]
    public void A_time_reader_that_remembers_agrees_with_a_fresh_one(string formName, string format)
    {
        var plan = new TimePlan(Enum.Parse<TimeForm>(formName), 0);
        var steps = Gen.OneOf(Gen.Long[-5_000, 5_000], Gen.Long[-100_000_000, 100_000_000]);
        Gen.Select(steps.Array[1, 40], Gen.Int[0, 20]).Sample((jumps, damageAt) =>
        {
            var remembering = new TimeReader(plan, '.');
            var at = new DateTime(2026, 3, 1, 12, 0, 0);
            for (int i = 0; i < jumps.Length; i++)
            {
                at = at.AddMilliseconds(jumps[i]);
                string cell = at.ToString(format, System.Globalization.CultureInfo.InvariantCulture);
                if (i % 7 == 6) cell = cell.Remove(damageAt % cell.Length, 1);
                var fresh = new TimeReader(plan, '.');
                bool a = remembering.TryRead(cell, [], out long one), b = fresh.TryRead(cell, [], out long other);
                if (a != b || (a && one != other) || remembering.WasRounded != fresh.WasRounded) return false;
            }

            return true;
        }, iter: 2_000);
    }

    [Fact]
    public void Plain_seconds_are_those_of_the_full_reading()
    {
        var fast = new TimeReader(new TimePlan(TimeForm.Number, 0), '.');
        var slow = new TimeReader(new TimePlan(TimeForm.Number, 0), '.');
        CellGen.Sample(cell =>
        {
            bool a = fast.TryRead(cell, [], out long one);
            bool b = slow.TryRead($" {cell}", [], out long other); // the blank keeps it off the fast road
            return a == b && (!a || one == other);
        }, iter: 100_000);
    }
}
