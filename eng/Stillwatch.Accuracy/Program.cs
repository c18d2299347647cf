using Stillwatch.Accuracy;
using Stillwatch.Accuracy.Recordings;

return AccuracyCommand.Run(args, new OpenData(OpenData.Folder()), Console.Out, Console.Error);
