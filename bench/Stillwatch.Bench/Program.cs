using Stillwatch.Bench;

// Benchmarks, one verb each; --tiny runs one short round of everything so that none of them rots.
var benches = new SortedDictionary<string, Func<bool, int>>(StringComparer.Ordinal)
{
    ["engine"] = EngineBench.Run,
    ["map"] = MapBench.Run,
};

bool tiny = args.Contains("--tiny");
string verb = args.FirstOrDefault(a => !a.StartsWith('-')) ?? "";
if (verb == YearRun.Verb) return YearRun.Measure(tiny);
if (verb == "all") return benches.Values.Max(run => run(tiny));
if (benches.TryGetValue(verb, out var bench)) return bench(tiny);
Console.Error.WriteLine($"Found '{verb}', expected one of: {string.Join(", ", benches.Keys)}, all; with or without --tiny.");
return 2;
