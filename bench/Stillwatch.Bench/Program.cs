using Stillwatch.Bench;

// Benchmarks, one verb each; --tiny runs one short round so that none of them rots.
var benches = new SortedDictionary<string, Func<string[], int>>(StringComparer.Ordinal)
{
    ["asked"] = AskedBench.Run,
    ["csv"] = CsvBench.Run,
    ["edf"] = EdfBench.Run,
    ["engine"] = EngineBench.Run,
    ["light"] = LightBench.Run,
    ["map"] = MapBench.Run,
    ["packed"] = PackedBench.Run,
    ["store"] = StoreBench.Run,
};

string verb = args.FirstOrDefault(a => !a.StartsWith('-')) ?? "";
if (verb == YearRun.Verb) return YearRun.Measure(args);
if (verb == UnitYear.Verb) return UnitYear.Measure(args);
if (verb == OneChannelRun.Verb) return OneChannelRun.Measure(args);
if (verb == "all") return Math.Max(benches.Values.Max(run => run(args)), args.Contains("--tiny") ? UnitYear.Measure(args) : 0);
if (benches.TryGetValue(verb, out var bench)) return bench(args);
Console.Error.WriteLine($"Found '{verb}', expected one of: {string.Join(", ", benches.Keys)}, {YearRun.Verb}, {UnitYear.Verb}, all; with or without --tiny.");
return 2;
