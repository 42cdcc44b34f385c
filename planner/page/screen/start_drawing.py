"""A section that shows what the five numbers are, in the language of the sheets."""

_LAND = "M0 96 C60 98 90 112 150 128 S230 168 270 186 S340 208 400 204 S520 176 600 140 S760 58 850 40 S960 30 1000 30"

SECTION = f"""
<svg viewBox="0 0 1000 232" role="img" aria-label="A section: from the source water falls through
supply and drive pipe to the ram, which lifts part of it through the delivery pipe to the tank">
<path class="soil" d="{_LAND} V232 H0 Z"/><path class="land" d="{_LAND}"/>
<path class="size" d="M86 104 H356 M318 104 V204 M313 112 L318 104 L323 112 M313 196 L318 204 L323 196"/>
<path class="size" d="M386 204 H300 M420 204 H930 M885 36 H935 M918 36 V204 M913 44 L918 36 L923 44 M913 196 L918 204 L923 196"/>
<path class="supply" d="M86 104 C110 110 130 118 176 138"/>
<path class="drive" d="M176 138 L390 204"/>
<path class="delivery" d="M404 204 C520 182 560 160 600 142 S760 60 858 40"/>
<circle class="sign" cx="86" cy="102" r="13"/><text x="86" y="106" text-anchor="middle">S</text>
<rect class="sign" x="164" y="125" width="24" height="24"/><text x="176" y="141" text-anchor="middle">C</text>
<path class="sign" d="M398 190 L411 197 V212 L398 219 L385 212 V197 Z"/><text x="398" y="209" text-anchor="middle">R</text>
<rect class="sign" x="846" y="22" width="28" height="25" rx="6"/><text x="860" y="39" text-anchor="middle">T</text>
<text x="328" y="158">fall</text><text x="928" y="126">rise</text>
<text x="86" y="78" text-anchor="middle">source</text><text x="398" y="178" text-anchor="start" dx="14">ram</text>
<text x="830" y="30" text-anchor="end">tank</text>
<text class="role" x="650" y="96" text-anchor="end">pipe to the tank</text>
</svg>"""
