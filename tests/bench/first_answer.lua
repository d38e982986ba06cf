-- The smallest script with an answer, for timing the start of the program.
print(require "hairfibre".saturation_pressure(373.15))
