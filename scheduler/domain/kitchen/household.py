"""Grams of household measures, from the USDA National Nutrient Database for Standard Reference 28 (2015).

The file is in the public domain, and the legacy part of FoodData Central. Rows whose measure is marked "*" were read
in a copy of its table WEIGHT; every other figure is from memory of the same table. Each line has the number of the
food (NDB), its name here, the grams of its measures, and other names under which a cook may mean nothing else.
"""

from __future__ import annotations

HOUSEHOLD = """
20081 | wheat flour, all-purpose | *cup 125 | wheat flour; flour; plain flour; white flour; all-purpose flour
20083 | wheat flour, bread | cup 137 | bread flour; strong flour; strong white flour; white bread flour
20084 | wheat flour, cake | cup 137 | cake flour
20082 | wheat flour, self-rising | cup 125 | self-rising flour; self-raising flour
20080 | wheat flour, whole grain | *cup 120 | whole wheat flour; wholewheat flour; wholemeal flour; whole grain flour
20064 | rye flour, medium or light | *cup 102 | light rye flour; medium rye flour
20063 | rye flour, dark | cup 128 | dark rye flour; whole rye flour; wholegrain rye flour
20061 | rice flour, white | cup 158 | white rice flour; rice flour
20090 | rice flour, brown | cup 158 | brown rice flour
20011 | buckwheat flour | cup 120 | whole buckwheat flour
20130 | barley flour | cup 148 | barley meal
20132 | oat flour | cup 104 |
20066 | semolina | cup 167 | wheat semolina
20016 | corn flour, whole-grain | cup 117 | whole-grain corn flour
20020 | cornmeal, whole-grain | cup 122 | whole-grain cornmeal
20022 | cornmeal, degermed | cup 157 | degermed cornmeal
20027 | cornstarch | cup 128 | corn starch
16157 | chickpea flour | cup 92 | besan; gram flour
20078 | wheat germ | cup 115 | raw wheat germ
20077 | wheat bran | cup 58 | bran
20033 | oat bran | cup 94 | raw oat bran
20038 | oats, rolled | *cup 156 | rolled oats; oats
19335 | sugar, granulated | *tsp 4.2; cup 200 | sugar; white sugar; granulated sugar; white granulated sugar
19334 | sugar, brown, unpacked | *cup 145; tsp 3.0 | unpacked brown sugar; loose brown sugar
19334 | sugar, brown, packed | cup 220; tsp 4.6 | packed brown sugar
19336 | sugar, powdered, sifted | *cup 100 | sifted powdered sugar; sifted icing sugar
19336 | sugar, powdered, unsifted | cup 120; tsp 2.5; tbsp 8.0 | unsifted powdered sugar; unsifted icing sugar
19296 | honey | *cup 339; tbsp 21 |
19304 | molasses | *cup 337; tbsp 20 | dark molasses
19353 | maple syrup | tbsp 20 |
19350 | corn syrup, light | tbsp 22 | light corn syrup
02047 | salt, table | *tbsp 18; tsp 6; cup 292 | table salt
04053 | olive oil | *tbsp 13.5; cup 216; tsp 4.5 |
04044 | soybean oil | *cup 218; tbsp 13.6 | soya oil; soy oil
04582 | canola oil | cup 218; tbsp 14 | rapeseed oil
04518 | corn oil | cup 218; tbsp 13.6 | maize oil
04042 | peanut oil | cup 216; tbsp 13.5 | groundnut oil
04058 | sesame oil | cup 218; tbsp 13.6 |
04584 | sunflower oil | cup 218; tbsp 13.6 |
04047 | coconut oil | cup 218; tbsp 13.6 | melted coconut oil
04002 | lard | cup 205; tbsp 12.8 |
01001 | butter | cup 227; tbsp 14.2 | salted butter
01145 | butter, unsalted | cup 227; tbsp 14.2 | unsalted butter
14429 | water | cup 237 | tap water; cold water; warm water
01077 | milk, whole | *cup 244; tbsp 15 | milk; whole milk; full cream milk
01079 | milk, 2 % | cup 244 | semi-skimmed milk; reduced fat milk
01085 | milk, skim | cup 245 | skimmed milk; skim milk
01088 | buttermilk | cup 245 | cultured buttermilk; lowfat buttermilk
01053 | cream, heavy | cup 238; tbsp 15 | heavy cream; heavy whipping cream
01049 | cream, half and half | cup 242; tbsp 15 | half and half
01056 | cream, sour | cup 230 | sour cream; soured cream
01116 | yogurt, whole | cup 245 | yogurt; yoghurt; plain yogurt; plain yoghurt; whole milk yogurt
01123 | egg, whole, beaten | cup 243 | beaten egg; beaten eggs
20044 | rice, white long grain, raw | *cup 185 | white long grain rice; long grain rice; long grain white rice
20450 | rice, white medium grain, raw | cup 195 | medium grain rice; white medium grain rice
20052 | rice, white short grain, raw | cup 200 | short grain rice; white short grain rice
20054 | rice, white glutinous, raw | cup 185 | glutinous rice; sticky rice
20036 | rice, brown, raw | *cup 185 | brown rice; long grain brown rice; brown long grain rice
20088 | wild rice, raw | cup 160 | wild rice
20045 | rice, white long grain, cooked | cup 158 | cooked long grain rice; cooked white long grain rice
20005 | barley, pearled, raw | cup 200 | pearl barley; pearled barley
20012 | bulgur, dry | cup 140 | bulgur; bulgur wheat; bulghur
20028 | couscous, dry | cup 173 | couscous
20031 | millet, raw | cup 200 | millet
20035 | quinoa, uncooked | cup 170 | quinoa; raw quinoa
16001 | adzuki beans, raw | cup 197 | adzuki beans; dried adzuki beans
16014 | black beans, raw | cup 194 | dried black beans; dry black beans
16015 | black beans, cooked | cup 172 | cooked black beans; boiled black beans
16019 | cranberry beans, raw | cup 195 | dried cranberry beans; dried borlotti beans; dried roman beans
16020 | cranberry beans, cooked | cup 177 | cooked cranberry beans; cooked borlotti beans
16024 | great northern beans, raw | cup 183 | dried great northern beans
16025 | great northern beans, cooked | cup 177 | cooked great northern beans
16027 | kidney beans, raw | cup 184 | dried kidney beans; dry kidney beans
16032 | red kidney beans, raw | cup 184 | dried red kidney beans; kidney beans, red, raw
16033 | red kidney beans, cooked | cup 177 | cooked red kidney beans; cooked kidney beans; boiled kidney beans
16037 | navy beans, raw | *cup 208 | dried navy beans; dry navy beans
16038 | navy beans, cooked | cup 182 | cooked navy beans
16042 | pinto beans, raw | *cup 193 | dried pinto beans; dry pinto beans
16043 | pinto beans, cooked | cup 171 | cooked pinto beans
16045 | small white beans, raw | cup 215 | dried small white beans
16049 | white beans, raw | cup 202 | dried white beans; dry white beans
16050 | white beans, cooked | cup 179 | cooked white beans; boiled white beans
16052 | broad beans, raw | cup 150 | dried broad beans; dried fava beans; dried broadbeans; fava beans, raw
16053 | broad beans, cooked | cup 170 | cooked broad beans; cooked fava beans
16056 | chickpeas, raw | cup 200 | dried chickpeas; dry chickpeas; dried garbanzo beans
16057 | chickpeas, cooked | *cup 164 | cooked chickpeas; boiled chickpeas; cooked garbanzo beans
16062 | black-eyed peas, raw | cup 167 | dried black-eyed peas; dried cowpeas; cowpeas, raw
16069 | lentils, raw | *cup 192 | dried lentils; dry lentils
16070 | lentils, cooked | cup 198 | cooked lentils; boiled lentils
16071 | lima beans, raw | cup 178 | dried lima beans; dried butter beans
16080 | mung beans, raw | cup 207 | dried mung beans; mung beans
16083 | urad beans, raw | cup 207 | urad beans; black gram; mungo beans, raw
16085 | split peas, raw | cup 197 | split peas; dried split peas; green split peas
16108 | soybeans, raw | cup 186 | dried soybeans; dried soya beans
16109 | soybeans, cooked | cup 172 | cooked soybeans; cooked soya beans
02048 | vinegar, cider | *cup 239; tbsp 14.9; tsp 5 | cider vinegar; apple cider vinegar
02053 | vinegar, distilled | cup 238; tbsp 14.9; tsp 5 | distilled vinegar; white distilled vinegar
02068 | vinegar, red wine | cup 239; tbsp 14.9 | red wine vinegar
02069 | vinegar, balsamic | cup 255; tbsp 16 | balsamic vinegar
06179 | fish sauce | *tbsp 18; cup 288 |
16123 | soy sauce | tbsp 16; cup 255; tsp 5.3 | shoyu; soya sauce
16124 | tamari | tbsp 18; tsp 6 | tamari soy sauce
16112 | miso | cup 275; tbsp 17 | miso paste
02046 | mustard, prepared | cup 249; tsp 5 | prepared mustard
12166 | tahini | tbsp 15 | sesame paste
16098 | peanut butter | cup 258; tbsp 16 | smooth peanut butter
11887 | tomato paste | cup 262; tbsp 16 | tomato puree, concentrated
19165 | cocoa, dry | *cup 86; tbsp 5.4 | cocoa; cocoa powder; unsweetened cocoa powder
18375 | yeast, active dry | *tsp 4; tbsp 12 | active dry yeast; active dried yeast
18369 | baking powder | tsp 4.6 | double acting baking powder
18372 | baking soda | tsp 4.6 | bicarbonate of soda; sodium bicarbonate
18373 | cream of tartar | tsp 3.0 |
02028 | paprika | *tsp 2.3; tbsp 6.8 | sweet paprika; paprika powder
02005 | caraway seed | tsp 2.1; tbsp 6.7 | caraway; caraway seeds
02009 | chili powder | tsp 2.7; tbsp 8 | chilli powder
02010 | cinnamon, ground | tsp 2.6; tbsp 7.8 | ground cinnamon
02013 | coriander seed | tsp 1.8; tbsp 5 | coriander seeds
02014 | cumin seed | tsp 2.1; tbsp 6 | cumin seeds; whole cumin
02018 | fennel seed | tsp 2.0; tbsp 5.8 | fennel seeds
02020 | garlic powder | tsp 3.1; tbsp 9.7 |
02021 | ginger, ground | tsp 1.8; tbsp 5.2 | ground ginger
02025 | nutmeg, ground | tsp 2.2; tbsp 7 | ground nutmeg
02026 | onion powder | tsp 2.4; tbsp 6.9 |
02030 | pepper, black, ground | tsp 2.3; tbsp 6.9 | ground black pepper; ground pepper
02030 | pepper, black, whole | tsp 2.9 | black peppercorns; whole black pepper
02031 | cayenne pepper | tsp 1.8; tbsp 5.3 | cayenne; ground cayenne
02033 | poppy seed | tsp 2.8; tbsp 8.8 | poppy seeds
12023 | sesame seeds | cup 144; tbsp 9 | sesame seed; whole sesame seeds
11109 | cabbage, shredded | *cup 70 | shredded cabbage
11109 | cabbage, chopped | cup 89 | chopped cabbage
11282 | onion, chopped | *cup 160; tbsp 10 | chopped onion; chopped onions
11282 | onion, sliced | cup 115 | sliced onion; sliced onions
11215 | garlic, raw | *cup 136; tsp 2.8 | garlic; chopped garlic; raw garlic
11216 | ginger, raw | *tsp 2.0 | raw ginger; grated ginger; ginger root; fresh ginger
11216 | ginger, sliced | cup 96 | sliced ginger
11124 | carrot, grated | cup 110 | grated carrot; grated carrots
11124 | carrot, chopped | cup 128 | chopped carrot; chopped carrots
11429 | radish, sliced | cup 116 | sliced radish; sliced radishes
11205 | cucumber, sliced | cup 104 | sliced cucumber; sliced cucumbers
11564 | turnip, cubed | cup 130 | cubed turnip; cubed turnips; turnip cubes
11080 | beet, raw | cup 136 | beetroot, raw; raw beetroot; raw beets
09152 | lemon juice | cup 244 | fresh lemon juice
09298 | raisins, not packed | cup 145 | raisins; seedless raisins
09298 | raisins, packed | cup 165 | packed raisins
12061 | almonds, whole | cup 143 | almonds; whole almonds
12155 | walnuts, chopped | cup 117 | chopped walnuts
01032 | parmesan, grated | cup 100 | grated parmesan
"""
"""A name that fits two foods of different weight (brown sugar, chickpeas, rice) is left to be said in full."""
