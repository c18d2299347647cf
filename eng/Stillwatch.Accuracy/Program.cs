using Stillwatch.Accuracy;

return AccuracyCommand.Run(args, Console.Out, Console.Error);
