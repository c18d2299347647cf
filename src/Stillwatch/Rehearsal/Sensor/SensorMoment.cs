namespace Stillwatch.Rehearsal.Sensor;

/// <summary>What happens to the sensor in one second; all zero and false is a quiet finger.</summary>
/// <param name="Motion">Strength of movement: standard deviation of the light's change over the usual pulse amplitude at PI 1 % (1 swamps the pulse).</param>
/// <param name="MotionHz">Main frequency of rhythmic movement; 0: irregular.</param>
/// <param name="Flicker">Amplitude of lamps' light over the mean infrared light.</param>
/// <param name="FlickerHz">As it appears after sampling.</param>
/// <param name="Ambient">Steady light from elsewhere over the mean infrared light.</param>
/// <param name="Slip">0 well placed; 1 half of the light passes beside the tissue.</param>
/// <param name="Off">No tissue in the sensor.</param>
/// <param name="FeedLost">No samples and no numerics come through.</param>
public readonly record struct SensorMoment(
    double Motion, double MotionHz, double Flicker, double FlickerHz, double Ambient, double Slip, bool Off, bool FeedLost);
