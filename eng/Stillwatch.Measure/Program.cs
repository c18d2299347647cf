using Stillwatch.Measure;

return await MeasureCommand.RunAsync(args, Console.Out, Console.Error);
