#!/bin/bash
# whymiss flight: figures, pictures, paths, conditions and faults, on the shipped vocabulary without any rule: a flight needs none.
# shellcheck disable=SC2154,SC2317 # scratch comes from tap; functions are called by expect
# shellcheck source=tests/cli/tap
# shellcheck disable=SC1091 # what tap defines
source tests/cli/tap

base=$scratch/base
mkdir -p "$base/kb"
cp -r kb/evidence kb/clubs.yaml kb/sources.yaml "$base/kb/"
export WHYMISS_BASE=$base LC_ALL=C

fits() { # rows: at most so many lines of 79 columns in plain ASCII
  awk -v rows="$1" '
    length($0) > 79 { print "line " NR " has " length($0) " columns"; bad = 1 }
    /[^ -~]/ { print "line " NR " is not plain ASCII"; bad = 1 }
    END { if (NR > rows) { print NR " lines"; bad = 1 } exit bad }' "$scratch/out"
}
matches() { grep -qE -- "$2" "$scratch/$1"; } # out|err, pattern

# ---- figures ----

whole=(club=8i club_speed=72mph ball_speed=88mph face=1 path=-5 attack=-4 delivered_loft=30 strike=9 strike_height=-3 launch=22
  backspin=6500 axis_tilt=8 start=-1 plane_tilt=62)
run flight "${whole[@]}"
expect "all that can be given is told" ended 0
expect "on one screen" fits 39
expect "with what was lost" matches out "the ball is [0-9]+ mph \+/- [0-9] short of what this club speed gives; about"
expect "with the face square to the path" has out "face to path 0 at the same club speed"
expect "and with a strike in the middle" has out "struck in the middle at the same club speed"
no_bare_carry() { ! tr '\n' ' ' < "$scratch/out" | tr -s ' ' | grep -oE 'carry +[0-9.]+ (yd|m)[^;,]{0,12}' | grep -v '+/-'; }
expect "no carry stands without its error" no_bare_carry
expect "nothing on stderr" is_empty err

run flight club=8i club_speed=72mph ball_speed=88mph face=1 path=-5
expect "what was not given is said to be taken as usual" has out "(taken as usual for the club, not given)"
expect "on one screen too" fits 39
expect "and what would tell more" has out "for what an off-centre strike costs: strike, strike_height"
expect "speeds in mph make distances in yards" matches out "^Flight +carry +[0-9]+ yd +\+/- [0-9]"
run flight club=8i club_speed=32.2 ball_speed=39.3
expect "speeds in m/s make distances in metres" matches out "^Flight +carry +[0-9]+ m +\+/- [0-9]"
expect "without face and path no side" lacks out "off the target line"
expect "and that is said" has out "for the side: face and path, or start and curve or axis_tilt"
run flight club=8i
expect "too little is no fault" ended 0
expect "what is missing is named" has out "for the flight: ball_speed or club_speed"
run flight
expect "nothing given is no fault either" has out "; the club, or launch"

run flight club=7i start=left curve=right
expect "the flight alone gives ranges of face and path" matches out "^ +club path +[0-9.]+ deg left to [0-9.]+ deg left$"
expect "and says what stays open" matches out "strike along the face .*\(open\)"
expect "and how far a strike alone may bend it" has out "An unseen strike off the middle alone may"
run flight club=7i face=2 path=-4 start=-6
expect "what cannot be together is told in the player's words" has out "face 2, path -4 and start -6 cannot all be correct"
expect "once" is_empty err
run flight --handed left club=7i face=-2 path=4 start=6
expect "a left-handed player's too" has out "face -2, path 4 and start 6 cannot all be correct"
expect "in that hand" has out "direction 0.1 deg left"

# ---- a left-handed player reads the mirror image ----

run flight club=8i club_speed=72mph ball_speed=88mph face=1 path=-5 strike=9
cp "$scratch/out" "$scratch/right"
run flight --handed left club=8i club_speed=72mph ball_speed=88mph face=-1 path=5 strike=9
mirrored() {
  diff <(sed 's/left/@/g; s/right/left/g; s/@/right/g' "$scratch/right" | tr -s ' \n' '  ') \
    <(sed 's/; left-handed//' "$scratch/out" | tr -s ' \n' '  ')
}
expect "the text of a left-handed case is the mirror image" mirrored

# ---- conditions ----

run flight ball_speed=88mph launch=22 backspin=6500 --wind "10 mph left" --temperature "77 F" --altitude "1000 ft" --model lyu2018
expect "conditions are told as they were taken" has out "(model lyu2018, 25 C, 305 m above the sea, wind 10 mph from the left)"
run flight ball_speed=88mph launch=22 backspin=6500 wind=head wind_speed=5
expect "wind given as evidence is used" has out "from ahead"
run flight --wind "10 mph lft" --model blen --temperature 99 --altitude 5km path=x
expect "all faults of one call are told at once" ended 4
for text in "'lft' is no wind" "did you mean 'blend'?" "99 is outside the plausible range of 'temperature', -20 C to 50 C" \
  "there is no unit 'km'" "'x' is no club path"; do expect "among them: $text" has err "$text"; done

# ---- bad numbers name the plausible range ----

run flight ball_speed=900mph club_speed=nan delivered_loft=-3 path=-inf
expect "bad numbers are faulty input" ended 4
expect "a 900 mph ball" matches err "outside the plausible range of 'ball_speed', 5( m/s)? to 95 m/s"
expect "a speed that is no number" matches err "nan.* is outside the plausible range of 'club_speed', 8( m/s)? to 65 m/s"
expect "a negative loft" matches err "outside the plausible range of 'delivered_loft', 0( deg)? to 66 deg"
expect "an endless path" matches err "outside the plausible range of 'path', -20( deg)? to 20 deg"
expect "and nothing is guessed" is_empty out

# ---- path and pictures ----

shot=(ball_speed=88mph launch=22 backspin=6500 start=-1 axis_tilt=8)
run flight "${shot[@]}" --csv
lands() {
  awk -F, 'NR == 1 { exit $0 != "time_s,distance_m,right_m,height_m,speed_mps,carry_error_m" }
    NF != 6 { print "line " NR; exit 1 }' "$scratch/out" &&
    tail -n 1 "$scratch/out" | awk -F, '{ exit !($4 == 0 && $2 > 90 && $2 < 110 && $6 > 2) }'
}
expect "the path as a table ends on the ground, with the carry's error" lands
cp "$scratch/out" "$scratch/right"
run flight --handed left ball_speed=88mph launch=22 backspin=6500 start=1 axis_tilt=-8 --csv
turned() {
  paste -d, "$scratch/right" "$scratch/out" |
    awk -F, 'NR > 1 && ($3 != -$9 || $2 != $8 || $4 != $10) { print; bad = 1 } END { exit bad || NR < 60 }'
}
expect "a left-handed player's path is the mirror image" turned
run flight "${shot[@]}" --plot
expect "the picture fits the screen" fits 39
expect "it shows both views" has out "From above: distance and side, yd"
expect "and the carry with its error" matches out "carry [0-9]+ yd \+/- [0-9]+, [0-9.]+ yd (left|right) \+/- [0-9]"
run flight ball_speed=88mph launch=22 backspin=6500 --plot
expect "without a side there is no view from above" has out "No view from above"
run flight ball_speed=60 launch=3 backspin=2500 start=20 axis_tilt=-30 --plot
expect "a low hook fits too" fits 39
run flight "${shot[@]}" --svg
expect "the SVG is well-formed" /usr/bin/python3 -c 'import sys, xml.dom.minidom; xml.dom.minidom.parse(sys.argv[1])' "$scratch/out"
expect "it refers to nothing outside" lacks out "href"
expect "and tells the error" matches out "carry [0-9]+ yd \+/- [0-9]+"
for view in --csv --plot --svg; do
  run flight club=8i $view
  expect "$view of no flight is faulty input" ended 4
  expect "$view says what to give" has err "give ball_speed, or club_speed"
  expect "$view writes nothing then" is_empty out
done
run flight --csv --plot
expect "one view at a time" ended 2

# ---- residuals ----

run flight --residuals
expect "residuals fit the width" fits 60
expect "the blend misses nothing that concerns it" [ "$(grep -cE '^    -?[0-9.]+ [-+0-9.]+ MISS' "$scratch/out")" -eq 0 ]
expect "the published fits miss what made a blend necessary" has out "+14.7 MISS"
run flight --residuals club=8i
expect "residuals take no evidence" ended 2
WHYMISS_BASE=$scratch/nowhere run flight --residuals
expect "and need no knowledge" ended 0

# ---- JSON ----

if ! /usr/bin/python3 -c 'import jsonschema' 2> /dev/null; then
  skip "flight --json against its schema" "python3-jsonschema is not installed"
  finish
fi
validate() { # schema, then a Python statement that changes the document
  /usr/bin/python3 - "docs/schemas/$1.schema.json" "$scratch/out" "${2:-pass}" << 'END'
import json, sys, jsonschema
schema = json.load(open(sys.argv[1]))
jsonschema.Draft202012Validator.check_schema(schema)
d = json.load(open(sys.argv[2]))
exec(sys.argv[3])
faults = list(jsonschema.Draft202012Validator(schema).iter_errors(d))
for fault in faults[:5]:
    print(list(fault.path), fault.message[:200])
sys.exit(1 if faults else 0)
END
}
invalid() { ! validate "$@"; }
check() { # name, arguments
  local name=$1
  shift
  run flight --json "$@"
  expect "JSON: $name" validate flight
}
check "all given" "${whole[@]}"
check "a left-handed mean" --handed left --mean-of 7 club=driver club_speed=95mph face=2 path=4
check "words alone" club=7i start=left curve=right
check "nothing given"
check "a contradiction" club=7i face=2 path=-4 start=-6
check "wind" club=8i ball_speed=88mph --wind "5 30"
for change in 'd["extra"] = 1' 'del d["flight"]["carry"]' 'd["flight"]["carry"]["error"] = None' 'd["facts"][0]["from"] = "guess"' \
  'd["expected"]["carry"]["error"] = -1' 'd["conditions"]["model"] = "moon"'; do
  expect "the schema refuses: $change" invalid flight "$change"
done
run flight --residuals --json
expect "JSON: residuals" validate residuals
expect "the residuals' schema refuses a missing model" invalid residuals 'del d["rows"][0]["models"]["blend"]'
finish
