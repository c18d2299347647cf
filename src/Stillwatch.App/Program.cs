using System.Text;
using Stillwatch.App.Commands;
using Stillwatch.App.Terminal;

Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return (int)StillwatchProgram.Run(args, Screen.OfThisProcess());
